"""The room that a drawn text takes on its sheet. Paper millimetres."""

from __future__ import annotations

from plangen.sheets.font import text_box
from plangen.sheets.marks import Text
from plangen.sheets.paper import Rect


def text_rect(text: Text) -> Rect:
    """Return the box of a text, level or turned a quarter to the left."""
    left, top, right, bottom = text_box(text.x, text.y, text.text, text.height, text.anchor, text.bold)
    if text.angle != -90.0:
        return left, top, right, bottom
    # turned a quarter to the left about its anchor
    return (
        text.x + top - text.y,
        text.y - (right - text.x),
        text.x + bottom - text.y,
        text.y - (left - text.x),
    )
