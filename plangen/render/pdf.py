"""The sheets as one PDF: drawn in a few parts, joined, then links, bookmarks, labels and a fixed identity.

The lettering is found through a font configuration of our own, never the system's. Loading cairo is left to
the first call, because checking and the web pages must work without it.
"""

from __future__ import annotations

import contextlib
import datetime
import io
import itertools
import os
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from plangen.sheets.marks import Sheet, SheetSet
from plangen.shipped.folders import shipped_folder

PT_PER_MM = 72.0 / 25.4
PRODUCER = "plangen"
# Parts a set is drawn in: two processors are kept busy, and few copies of the lettering are embedded.
PARTS = 4


class PdfLibraryMissing(Exception):
    """The system's cairo library could not be loaded; the message names the package to install."""


class PdfDamaged(Exception):
    """The assembled PDF lacks pages or bookmarks: a fault in this program or its libraries."""


def pdf_bytes(sheets: SheetSet, svgs: Sequence[str], title: str, date: datetime.date) -> bytes:
    """Return all sheets as one PDF. `svgs` are the sheets' texts in the same order; `date` is the issue date.

    Raises:
        PdfLibraryMissing: cairo is not installed.
        PdfDamaged: the result does not hold what was put in.
    """
    parts = tuple(pages_bytes(part, date) for part in split_parts(svgs))
    return joined_bytes(parts, sheets.sheets, title, date)


def split_parts(svgs: Sequence[str]) -> tuple[tuple[str, ...], ...]:
    """Return the drawings in `PARTS` runs of about one length, in order.

    The number is fixed, so that the bytes do not depend on how many of them are drawn at once.
    """
    size, more = divmod(len(svgs), PARTS)
    ends = [0]
    for n in range(PARTS):
        ends.append(ends[-1] + size + (n < more))
    return tuple(tuple(svgs[a:b]) for a, b in itertools.pairwise(ends) if b > a)


def _cairo() -> tuple[Any, Any]:
    try:
        import cairocffi
        import cairosvg
        import cairosvg.surface
    except OSError as error:
        raise PdfLibraryMissing(
            "the cairo library is missing, so no PDF was written. Debian or Ubuntu: apt install libcairo2."
            " macOS: brew install cairo. Windows: install the GTK runtime and set CAIROCFFI_DLL_DIRECTORIES."
        ) from error
    return cairocffi, cairosvg


def pages_bytes(svgs: Sequence[str], date: datetime.date) -> bytes:
    """Return some drawings as a PDF of their own, to be joined with others; may run in a process of its own.

    Cairo's links are left out: they damage the file.

    Raises:
        PdfLibraryMissing: cairo is not installed.
    """
    with tempfile.TemporaryDirectory(prefix="plangen-fonts-") as folder:
        _use_shipped_fonts(Path(folder))
        cairocffi, cairosvg = _cairo()
        buffer = io.BytesIO()
        surface = cairocffi.PDFSurface(buffer, 1, 1)
        stamp = f"{date.isoformat()}T00:00:00Z"
        for key in (cairocffi.PDF_METADATA_CREATE_DATE, cairocffi.PDF_METADATA_MOD_DATE):
            surface.set_metadata(key, stamp)
        page_class = _page_class(cairosvg, surface)
        for svg in svgs:
            page_class(cairosvg.parser.Tree(bytestring=svg.encode("utf-8")), buffer, 96).finish()
        surface.finish()
        return buffer.getvalue()


def _use_shipped_fonts(folder: Path) -> None:
    """Point fontconfig at the shipped faces alone. Only the first text drawn in a process reads this."""
    fonts = shipped_folder("site") / "fonts"
    config = folder / "fonts.conf"
    config.write_text(
        '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>'
        f"<dir>{fonts}</dir><cachedir>{folder / 'cache'}</cachedir></fontconfig>",
        encoding="utf-8",
    )
    os.environ["FONTCONFIG_FILE"] = str(config)


def _page_class(cairosvg: Any, shared: Any) -> Any:
    class SheetSurface(cairosvg.surface.PDFSurface):
        """One page of the shared surface; cairosvg makes a file for each drawing by itself."""

        def _create_surface(self, width: float, height: float) -> tuple[Any, float, float]:
            shared.set_size(width, height)
            return shared, width, height

        def finish(self) -> None:
            self.context.show_page()

    return SheetSurface


def joined_bytes(parts: Sequence[bytes], sheets: Sequence[Sheet], title: str, date: datetime.date) -> bytes:
    """Join the parts in order; add bookmarks, page labels, links from callouts and fixed metadata.

    Raises:
        PdfDamaged: there are not as many pages as sheets.
    """
    import pikepdf

    with contextlib.ExitStack() as stack:
        pdf = stack.enter_context(pikepdf.new())
        for part in parts:
            pdf.pages.extend(stack.enter_context(pikepdf.open(io.BytesIO(part))).pages)
        if len(pdf.pages) != len(sheets):
            raise PdfDamaged(f"{len(pdf.pages)} pages for {len(sheets)} sheets")
        with pdf.open_outline() as outline:
            for n, sheet in enumerate(sheets):
                outline.root.append(pikepdf.OutlineItem(f"{sheet.id} {sheet.title}", n, "Fit"))
        labels = [x for n, s in enumerate(sheets) for x in (n, pikepdf.Dictionary(P=s.id))]
        pdf.Root.PageLabels = pikepdf.Dictionary(Nums=pikepdf.Array(labels))
        _add_links(pdf, sheets)
        stamp = f"D:{date:%Y%m%d}000000Z"
        pdf.docinfo["/Title"] = title
        pdf.docinfo["/Producer"] = PRODUCER
        pdf.docinfo["/Creator"] = PRODUCER
        pdf.docinfo["/CreationDate"] = stamp
        pdf.docinfo["/ModDate"] = stamp
        pdf.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True)
        out = io.BytesIO()
        pdf.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
        return out.getvalue()


def _add_links(pdf: Any, sheets: Sequence[Sheet]) -> None:
    import pikepdf

    index = {sheet.id: i for i, sheet in enumerate(sheets)}
    for sheet, page in zip(sheets, pdf.pages, strict=True):
        links = [
            _link(pdf, sheet, call, index[call.to_sheet]) for call in sheet.callouts if call.to_sheet in index
        ]
        if links:
            page.Annots = pdf.make_indirect(pikepdf.Array(links))


def _link(pdf: Any, sheet: Sheet, call: Any, page_index: int) -> Any:
    import pikepdf

    bottom = (sheet.height_mm - call.y - call.height) * PT_PER_MM
    rect = [call.x * PT_PER_MM, bottom, (call.x + call.width) * PT_PER_MM, bottom + call.height * PT_PER_MM]
    return pdf.make_indirect(
        pikepdf.Dictionary(
            Type=pikepdf.Name.Annot,
            Subtype=pikepdf.Name.Link,
            Rect=pikepdf.Array([round(v, 2) for v in rect]),
            Border=pikepdf.Array([0, 0, 0]),
            Dest=pikepdf.Array([pdf.pages[page_index].obj, pikepdf.Name.Fit]),
        )
    )
