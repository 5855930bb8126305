"""The plan in the PDF measured as with a ruler: its page at 300 dots to the inch, its lines by their pixels.

Sources: the examples' own figures (houses of 48 ft by 32 ft and of 36 ft by 28 ft, an office of 24 m by
16 m), the paper's sizes (ANSI/ASME Y14.1, ISO 216, ARCH D as 24 by 36 in) and arithmetic; 0.2 mm is this
project's tolerance. The SVG says only about where to look.
"""

from __future__ import annotations

import itertools
import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import numpy as np
import pikepdf
import pytest

from plangen.render.pdf import pages_bytes
from plangen.render.svg import svg_text
from tests.programs import needs_pdf_reader
from tests.sheets.sheet_set import EXAMPLES, composed_text, sheet

DPI = 300
PX_MM = DPI / 25.4
FOOT_MM = 304.8
TOLERANCE_MM = 0.2
DARK = 170

pytestmark = needs_pdf_reader


@dataclass(frozen=True)
class Plan:
    """A plan sheet: its SVG, the raster of its PDF page (0 black to 255 white), and what it must measure."""

    svg: str
    raster: np.ndarray
    page_mm: tuple[float, float]  # height and width
    house: str
    sides_mm: tuple[float, float]  # of the house on the ground, the shorter first


HOUSES = {
    "residential": ("House", (32 * FOOT_MM, 48 * FOOT_MM)),
    "replacement": ("House", (28 * FOOT_MM, 36 * FOOT_MM)),
    "commercial": ("Office", (16000.0, 24000.0)),
}
LONG = pytest.mark.long
PAPERS = [
    pytest.param(("residential", "packet"), id="ansi-b"),
    pytest.param(("replacement", "a3"), id="a3"),
    pytest.param(("residential", "arch-d"), id="arch-d", marks=LONG),
    pytest.param(("residential", "a1"), id="a1", marks=LONG),
    pytest.param(("commercial", "a1"), id="metric a1", marks=LONG),
]
SIZES = {"ansi-b": (279.4, 431.8), "a3": (297.0, 420.0), "arch-d": (609.6, 914.4), "a1": (594.0, 841.0)}


@pytest.fixture(scope="module", params=PAPERS)
def plan(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Plan]:
    """Return the plan of the packet's own PDF file, and of the same design on the other papers."""
    out = tmp_path_factory.mktemp("raster")
    example, family = request.param
    if family == "packet":
        packet: Path = request.getfixturevalue("packet")
        pdf, svg = packet / "plan-set.pdf", (packet / "sheets" / "LI101.svg").read_text(encoding="utf-8")
        with pikepdf.open(pdf) as file:
            labels = list(file.Root.PageLabels.Nums)
        page = next(int(n) for n, x in zip(labels[::2], labels[1::2], strict=True) if x.P == "LI101") + 1
        yield Plan(svg, _raster(pdf, page, out), SIZES["ansi-b"], *HOUSES[example])
        return
    text = (EXAMPLES / example / "design.plan").read_text(encoding="utf-8")
    changed = re.sub(r"^( +sheet +)[-a-z0-9]+$", rf"\g<1>{family}", text, count=1, flags=re.MULTILINE)
    _, sheets = composed_text(changed)
    svg = svg_text(sheet(sheets, "LI101"))
    pdf = out / "plan.pdf"
    pdf.write_bytes(pages_bytes((svg,), date(2026, 5, 4)))
    yield Plan(svg, _raster(pdf, 1, out), SIZES[family], *HOUSES[example])


def _raster(pdf: Path, page: int, folder: Path) -> np.ndarray:
    out = folder / "plan"
    options = ("-gray", "-r", str(DPI), "-f", str(page), "-l", str(page), "-singlefile")
    subprocess.run(["pdftoppm", *options, str(pdf), str(out)], check=True)
    data = out.with_suffix(".pgm").read_bytes()
    head = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    assert head
    return np.frombuffer(data, np.uint8, offset=head.end()).reshape(int(head[2]), int(head[1]))


def _points(svg: str, opening: str) -> list[tuple[float, float]]:
    found = re.search(re.escape(opening) + r'.*?points="([^"]*)"', svg)
    assert found, opening
    return [(float(x), float(y)) for x, y in (p.split(",") for p in found[1].split())]


def _starts(line: np.ndarray) -> list[int]:
    """Return where runs of dark pixels begin."""
    dark = line < DARK
    return [int(i) for i in np.flatnonzero(dark[1:] & ~dark[:-1]) + 1]


def _denominator(svg: str) -> int:
    found = re.search(r"Bar scale, (?:1 in = (\d+) ft \()?1:(\d+)", svg)
    assert found
    # the words of the scale agree: 1 in to so many feet is 1 to twelve times as many
    assert found[1] is None or int(found[1]) * 12 == int(found[2])
    return int(found[2])


def test_the_page_has_the_size_of_its_sheet(plan: Plan) -> None:
    assert plan.raster.shape == tuple(pytest.approx(side * PX_MM, abs=1.0) for side in plan.page_mm)


def test_the_bar_is_as_long_as_its_scale_says(plan: Plan) -> None:
    bar = plan.svg[plan.svg.index('<g class="scale-bar">') :]
    end = re.search(r">([\d.]+) (ft|m)<", bar)
    assert end
    long = float(end[1]) * (FOOT_MM if end[2] == "ft" else 1000.0) / _denominator(bar)
    (left, top), (_, _), (_, bottom), _ = _points(bar, "<polygon")
    row = plan.raster[round((top + bottom) / 2 * PX_MM)]
    near = row[round((left - 3) * PX_MM) : round((left + long + 3) * PX_MM)]
    # black, white, black, white, and the end: the beginnings are a half bar apart
    begins = _starts(near)
    assert len(begins) == 3
    assert (begins[1] - begins[0]) / PX_MM == pytest.approx(long / 2, abs=TOLERANCE_MM)
    assert (begins[2] - begins[0]) / PX_MM == pytest.approx(long, abs=TOLERANCE_MM)


def _corner(raster: np.ndarray, x: float, y: float) -> tuple[float, float] | None:
    """Return where the two walls of a corner near (x, y) run, in mm: the darkest column and row about it.

    None where another line runs as close, so that a ruler would have to guess.
    """
    reach = round(2 * PX_MM)  # less than the way of the wire round the house stands off
    column, row = round(x * PX_MM), round(y * PX_MM)
    dark = raster[row - reach : row + reach, column - reach : column + reach] < DARK
    places = []
    for share, first in ((dark.mean(axis=0), column - reach), (dark.mean(axis=1), row - reach)):
        wall = np.flatnonzero(share > 0.45)
        assert len(wall), "no wall in sight"
        if wall[-1] - wall[0] >= 0.6 * PX_MM:
            return None
        places.append((first + wall.mean() + 0.5) / PX_MM)
    return places[0], places[1]


def test_two_corners_of_the_house_are_as_far_apart_as_on_the_ground(plan: Plan) -> None:
    """Southwest, southeast, northeast, northwest: each two that stand free, whichever way the plan lies."""
    outline = _points(plan.svg, f'data-object="{plan.house}"')
    found = {i: corner for i, at in enumerate(outline) if (corner := _corner(plan.raster, *at)) is not None}
    assert len(found) >= 2, "fewer than two corners stand free"
    short, long = (side / _denominator(plan.svg) for side in plan.sides_mm)
    for (i, a), (j, c) in itertools.combinations(found.items(), 2):
        between = sorted((abs(a[0] - c[0]), abs(a[1] - c[1])))
        # south and north walls are the long ones in both examples
        expected = [short, long] if (i + j) % 2 == 0 else [0.0, long if {i, j} in ({0, 1}, {2, 3}) else short]
        assert between == pytest.approx(expected, abs=TOLERANCE_MM)
