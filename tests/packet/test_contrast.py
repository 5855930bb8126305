"""Colours of the page against their ground.

Source: WCAG 2.2, success criteria 1.4.3 (text 4.5:1) and 1.4.11 (graphics 3:1), with its definitions of
relative luminance and contrast ratio.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

STYLE = (Path(__file__).resolve().parents[2] / "site" / "style" / "page.css").read_text(encoding="utf-8")
COLOURS = dict(re.findall(r"--([a-z]+): (#[0-9a-f]{6})", STYLE))
GROUNDS = ("paper", "shade")


def luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(a: str, b: str) -> float:
    high, low = sorted((luminance(a), luminance(b)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def test_the_measure_itself():
    """Source: WCAG 2.2, definition of contrast ratio: black on white is 21:1."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("name", sorted(set(COLOURS) - {*GROUNDS, "rule"}))
def test_text_can_be_read(name, ground):
    assert contrast(COLOURS[name], COLOURS[ground]) >= 4.5


def test_lines_that_mean_something_can_be_seen():
    assert contrast(COLOURS["rule"], COLOURS["paper"]) >= 3.0


def test_marked_places_can_be_read():
    assert contrast(COLOURS["ink"], "#fdf3c7") >= 4.5 and contrast(COLOURS["link"], "#fdf3c7") >= 4.5
