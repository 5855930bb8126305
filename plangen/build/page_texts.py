"""Read the shipped texts of the packet's page: templates, notes, style, script, and the lettering as data."""

from __future__ import annotations

import base64

from plangen.packet.contents import PageTexts
from plangen.sheets.font import face
from plangen.shipped.folders import shipped_folder, shipped_text

# (file, weight) of the lettering of the drawings
_FACES = (("Regular", "normal"), ("Bold", "bold"))


def read_page_texts() -> PageTexts:
    """Return everything the page is made of besides the results."""
    site = shipped_folder("site")
    templates = {
        p.name: shipped_text("site", "templates", p.name) for p in sorted((site / "templates").glob("*.html"))
    }
    notes = {p.stem: shipped_text("site", "notes", p.name) for p in sorted((site / "notes").glob("*.md"))}
    return PageTexts(
        templates=templates,
        notes=notes,
        style=shipped_text("site", "style", "page.css"),
        script=shipped_text("site", "script", "page.js"),
        font_faces=font_faces(),
    )


def font_faces() -> str:
    """Return the faces of the drawings as style rules that carry the fonts in themselves."""
    family = face().family
    rules = []
    for style, weight in _FACES:
        file = shipped_folder("site") / "fonts" / f"{family.replace(' ', '')}-{style}.ttf"
        data = base64.b64encode(file.read_bytes()).decode("ascii")
        rules.append(
            f'@font-face{{font-family:"{family}";font-weight:{weight};'
            f'src:url(data:font/ttf;base64,{data}) format("truetype")}}'
        )
    return "\n".join(rules) + "\n"
