"""Markdown to HTML for the page's own notes and for texts of designs and packs. Pure.

Raw HTML, links and pictures are not let through: a note can never make the page fetch or run anything.
"""

from __future__ import annotations

from markdown import Markdown
from markupsafe import Markup

_NOT_LET_THROUGH = (
    "link",
    "image_link",
    "image_reference",
    "short_image_ref",
    "reference",
    "short_reference",
    "autolink",
    "automail",
    "html",
)


def note_html(text: str, heading_shift: int = 0) -> Markup:
    """Return a Markdown text as HTML; headings go down by `heading_shift` levels."""
    reader = Markdown(extensions=["tables"], output_format="html")
    reader.preprocessors.deregister("html_block")
    for name in _NOT_LET_THROUGH:
        reader.inlinePatterns.deregister(name)
    html = reader.convert(text)
    for level in range(5, 0, -1) if heading_shift else ():
        html = html.replace(f"<h{level}>", f"<h{level + heading_shift}>")
        html = html.replace(f"</h{level}>", f"</h{level + heading_shift}>")
    return Markup(html)
