"""Write `site/fonts/advances.json` from the two shipped faces. Run once, when a face changes."""

from __future__ import annotations

import json
from pathlib import Path

from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parents[2] / "site" / "fonts"
FACES = {"regular": "IBMPlexSansCondensed-Regular.ttf", "bold": "IBMPlexSansCondensed-Bold.ttf"}


def advances(path: Path) -> dict[str, int]:
    """Return the advance of each printable character of a face, in font units."""
    font = TTFont(path)
    metrics = font["hmtx"]
    return {
        chr(code): metrics[glyph][0]
        for code, glyph in sorted(font.getBestCmap().items())
        if chr(code).isprintable()
    }


def table() -> dict[str, object]:
    """Return the whole table as shipped."""
    regular = TTFont(FONTS / FACES["regular"])
    return {
        "family": regular["name"].getDebugName(1),
        "units_per_em": regular["head"].unitsPerEm,
        "cap_height": regular["OS/2"].sCapHeight,
        "ascent": regular["hhea"].ascent,
        "descent": -regular["hhea"].descent,
        **{face: advances(FONTS / name) for face, name in FACES.items()},
    }


if __name__ == "__main__":
    text = json.dumps(table(), ensure_ascii=False, separators=(",", ":"))
    (FONTS / "advances.json").write_text(text + "\n", encoding="utf-8")
