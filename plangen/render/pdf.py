"""The sheets' drawings converted to PDF pages, in a few parts; `pdf_copies` joins them.

The lettering is found through a font configuration of our own, never the system's. Loading cairo is left to
the first call, because checking and the web pages must work without it.
"""

from __future__ import annotations

import datetime
import io
import itertools
import os
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from plangen.shipped.folders import shipped_folder

# Parts a set is drawn in: two processors are kept busy, and few copies of the lettering are embedded.
PARTS = 4


class PdfLibraryMissing(Exception):
    """The system's cairo library could not be loaded; the message names the package to install."""


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
        import cairosvg.helpers
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
        page_class = _page_class(cairocffi, cairosvg, surface)
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


def _page_class(cairocffi: Any, cairosvg: Any, shared: Any) -> Any:
    class SheetSurface(cairosvg.surface.PDFSurface):
        """One page of the shared surface; cairosvg makes a file for each drawing by itself."""

        def _create_surface(self, width: float, height: float) -> tuple[Any, float, float]:
            shared.set_size(width, height)
            return shared, width, height

        def draw(self, node: Any) -> None:
            if node.tag == "text" and node.text and not node.children:
                self.context.save()
                cairosvg.helpers.transform(self, node.get("transform"))
                _letter(cairocffi, self.context, node, self.map_color(node["fill"]))
                self.context.restore()
            else:
                super().draw(node)

        def finish(self) -> None:
            self.context.show_page()

    return SheetSurface


def _letter(cairocffi: Any, context: Any, node: Any, colour: tuple[float, ...]) -> None:
    """Letter a whole text at once. Cairosvg sets each letter twice by itself: most of the time of a set."""
    bold = node.get("font-weight") == "bold"
    context.select_font_face(
        node["font-family"],
        cairocffi.FONT_SLANT_NORMAL,
        cairocffi.FONT_WEIGHT_BOLD if bold else cairocffi.FONT_WEIGHT_NORMAL,
    )
    context.set_font_size(float(node["font-size"]))
    context.set_source_rgba(*colour)
    bearing, _, width, *_ = context.text_extents(node.text)
    back = {"middle": bearing + width / 2, "end": bearing + width}.get(node.get("text-anchor"), 0.0)
    context.move_to(float(node["x"]) - back, float(node["y"]))
    context.show_text(node.text)
    context.new_path()
