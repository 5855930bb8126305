"""The sheets as one PDF: one cairo surface, then links, bookmarks check, labels and a fixed identity.

The lettering is found through a font configuration of our own, never the system's. Loading cairo is left to
the first call, because checking and the web pages must work without it.
"""

from __future__ import annotations

import datetime
import io
import os
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from plangen.sheets.marks import Sheet, SheetSet
from plangen.shipped.folders import shipped_folder

PT_PER_MM = 72.0 / 25.4
PRODUCER = "plangen"


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
    drawn = _drawn(sheets.sheets, svgs, title, date)
    return _finished(drawn, sheets.sheets, title, date)


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


def _drawn(sheets: Sequence[Sheet], svgs: Sequence[str], title: str, date: datetime.date) -> bytes:
    """Draw every sheet on one surface. Cairo's own links are left out: they damage the file."""
    with tempfile.TemporaryDirectory(prefix="plangen-fonts-") as folder:
        _use_shipped_fonts(Path(folder))
        cairocffi, cairosvg = _cairo()
        buffer = io.BytesIO()
        surface = cairocffi.PDFSurface(buffer, 1, 1)
        stamp = f"{date.isoformat()}T00:00:00Z"
        for key, value in (
            (cairocffi.PDF_METADATA_TITLE, title),
            (cairocffi.PDF_METADATA_CREATE_DATE, stamp),
            (cairocffi.PDF_METADATA_MOD_DATE, stamp),
        ):
            surface.set_metadata(key, value)
        page_class = _page_class(cairosvg, surface)
        for number, (sheet, svg) in enumerate(zip(sheets, svgs, strict=True), 1):
            page = page_class(cairosvg.parser.Tree(bytestring=svg.encode("utf-8")), buffer, 96)
            surface.set_page_label(sheet.id)
            surface.add_outline(
                cairocffi.PDF_OUTLINE_ROOT, f"{sheet.id} {sheet.title}", f"page={number} pos=[0.0 0.0]"
            )
            page.finish()
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


def _finished(drawn: bytes, sheets: Sequence[Sheet], title: str, date: datetime.date) -> bytes:
    """Add links from callouts and fixed metadata, and check that pages and bookmarks are all there."""
    import pikepdf

    with pikepdf.open(io.BytesIO(drawn)) as pdf:
        with pdf.open_outline() as outline:
            found = [str(item.title) for item in outline.root]
        wanted = [f"{sheet.id} {sheet.title}" for sheet in sheets]
        if len(pdf.pages) != len(sheets) or found != wanted:
            raise PdfDamaged(f"{len(pdf.pages)} pages and {len(found)} bookmarks for {len(sheets)} sheets")
        index = {sheet.id: i for i, sheet in enumerate(sheets)}
        for sheet, page in zip(sheets, pdf.pages, strict=True):
            links = [
                _link(pdf, sheet, call, index[call.to_sheet])
                for call in sheet.callouts
                if call.to_sheet in index
            ]
            if links:
                page.Annots = pdf.make_indirect(pikepdf.Array(links))
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
