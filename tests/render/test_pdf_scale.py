"""The plan in the PDF measured as with a ruler: its page at 300 dots to the inch, its lines by their pixels.

Sources: the example's own figures (a house of 48 ft by 32 ft, a bar of 20 ft, drawn at 1 in = 10 ft) and
arithmetic; 0.2 mm is this project's tolerance. The SVG says only about where to look.
"""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import numpy as np
import pikepdf
import pytest

from tests.programs import needs_pdf_reader

DPI = 300
PX_MM = DPI / 25.4
FOOT_MM = 304.8
TOLERANCE_MM = 0.2
DARK = 170

pytestmark = needs_pdf_reader


@pytest.fixture(scope="module")
def plan(packet: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[str, np.ndarray]:
    """Return the plan sheet's SVG and the raster of its PDF page, 0 black to 255 white."""
    with pikepdf.open(packet / "plan-set.pdf") as pdf:
        labels = list(pdf.Root.PageLabels.Nums)
    page = next(int(n) for n, label in zip(labels[::2], labels[1::2], strict=True) if label.P == "LI101") + 1
    out = tmp_path_factory.mktemp("raster") / "plan"
    options = ("-gray", "-r", str(DPI), "-f", str(page), "-l", str(page), "-singlefile")
    subprocess.run(["pdftoppm", *options, str(packet / "plan-set.pdf"), str(out)], check=True)
    data = out.with_suffix(".pgm").read_bytes()
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    assert head
    raster = np.frombuffer(data, np.uint8, offset=head.end()).reshape(int(head[2]), int(head[1]))
    return (packet / "sheets" / "LI101.svg").read_text(encoding="utf-8"), raster


def _points(svg: str, opening: str) -> list[tuple[float, float]]:
    found = re.search(re.escape(opening) + r'.*?points="([^"]*)"', svg)
    assert found, opening
    return [(float(x), float(y)) for x, y in (p.split(",") for p in found[1].split())]


def _starts(line: np.ndarray) -> list[int]:
    """Return where runs of dark pixels begin."""
    dark = line < DARK
    return [int(i) for i in np.flatnonzero(dark[1:] & ~dark[:-1]) + 1]


def test_the_page_has_the_size_of_its_sheet(plan: tuple[str, np.ndarray]) -> None:
    assert plan[1].shape == (11 * DPI, 17 * DPI)


def test_the_bar_is_as_long_as_its_scale_says(plan: tuple[str, np.ndarray]) -> None:
    svg, raster = plan
    bar = svg[svg.index('<g class="scale-bar">') :]
    assert "1 in = 10 ft (1:120)" in bar and ">20 ft<" in bar
    (left, top), (_, _), (_, bottom), _ = _points(bar, "<polygon")
    row = raster[round((top + bottom) / 2 * PX_MM)]
    near = row[round((left - 3) * PX_MM) : round((left + 20 * FOOT_MM / 120 + 3) * PX_MM)]
    # black, white, black, white, and the end: the beginnings are a half bar apart
    begins = _starts(near)
    assert len(begins) == 3
    assert (begins[1] - begins[0]) / PX_MM == pytest.approx(10 * FOOT_MM / 120, abs=TOLERANCE_MM)
    assert (begins[2] - begins[0]) / PX_MM == pytest.approx(20 * FOOT_MM / 120, abs=TOLERANCE_MM)


def _corner(raster: np.ndarray, x: float, y: float) -> tuple[float, float]:
    """Return where the two walls of a corner near (x, y) run, in mm: the darkest column and row about it."""
    reach = round(2 * PX_MM)  # less than the way of the wire round the house stands off
    column, row = round(x * PX_MM), round(y * PX_MM)
    dark = raster[row - reach : row + reach, column - reach : column + reach] < DARK
    places = []
    for share, first in ((dark.mean(axis=0), column - reach), (dark.mean(axis=1), row - reach)):
        wall = np.flatnonzero(share > 0.45)
        assert len(wall), "no wall in sight"
        assert wall[-1] - wall[0] < 0.6 * PX_MM, "more than one line in sight"
        places.append((first + wall.mean() + 0.5) / PX_MM)
    return places[0], places[1]


def test_two_corners_of_the_house_are_as_far_apart_as_on_the_ground(plan: tuple[str, np.ndarray]) -> None:
    """House.southwest and House.northeast: 48 ft one way and 32 ft the other, whichever way the plan lies."""
    svg, raster = plan
    outline = _points(svg, 'data-object="House"')
    a, c = _corner(raster, *outline[0]), _corner(raster, *outline[2])
    sides = sorted((abs(a[0] - c[0]), abs(a[1] - c[1])))
    assert sides == pytest.approx([32 * FOOT_MM / 120, 48 * FOOT_MM / 120], abs=TOLERANCE_MM)
