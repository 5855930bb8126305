"""Every sheet of every example as a browser shows it: lettering clean and complete, symbols explained.

Source of every expectation: this project's own contract for sheets (lettering heights, half-size floor,
legend of exactly the symbols used). Boxes, heights and pixels come from the browser alone; see
`browser_sheets`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from plangen.annotation.annotate import annotate
from plangen.build.inputs import Input
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import run_stages
from plangen.render.svg import svg_text
from plangen.sheets.paper import PAPERS
from plangen.sheets.pens import Lettering, lettering
from plangen.text.source import SourceFile
from tests.benchmarks.make_design import design_text
from tests.programs import needs_browser
from tests.sheets import browser_sheets as browser

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
# What always runs; the two variants of the residential job, and other paper, take their turn with --long.
ALWAYS = ("residential",)
NAMES = [p.parent.name for p in sorted(EXAMPLES.glob("*/design.plan"))]
ON_PAPERS = [f"{name} on {paper}" for name in ("residential", "commercial") for paper in PAPERS]
HEADS = "a design of 300 heads"
RUNS = [pytest.param(n, marks=() if n in ALWAYS else pytest.mark.long) for n in (*NAMES, *ON_PAPERS, HEADS)]
pytestmark = needs_browser


@cache
def drawn(example: str) -> tuple[tuple[str, ...], Lettering]:
    """Return the sheets of an example, findings on them, and the heights its set is lettered in.

    `residential on a1`: the example with another size of sheet.
    """
    name, _, paper = example.partition(" on ")
    if example == HEADS:
        text = design_text(300)
    else:
        text = (EXAMPLES / name / "design.plan").read_text(encoding="utf-8")
    if paper:
        text, count = re.subn(r"(?m)^(  sheet +)\S+$", rf"\g<1>{paper}", text)
        assert count == 1
    packs = read_packs().value
    assert packs is not None
    given = Input("design.plan", text.encode(), SourceFile.of("design.plan", text))
    checked = run_stages(given, packs, lambda step: None).checked
    assert checked is not None
    sheets = annotate(checked.sheets, checked.findings)
    return tuple(svg_text(s) for s in sheets.sheets), lettering(sheets.family)


def faults_of(judge: Callable[[browser.Seen], list[str]], sheets: list[browser.Seen]) -> list[str]:
    return [fault for sheet in sheets for fault in judge(sheet)]


@pytest.mark.parametrize("example", RUNS)
def test_an_example_is_lettered_cleanly_legibly_and_completely(example: str, tmp_path: Path) -> None:
    svgs, letters = drawn(example)
    sheets = browser.seen(svgs, tmp_path)
    assert len(sheets) == len(svgs) and sum(browser.is_plan(s) for s in sheets) >= 2
    assert sum(len(s["texts"]) for s in sheets) > 1000
    assert sum(len(s["leaders"]) for s in sheets) > 10
    assert sum(len(s["rows"]) for s in sheets if s["id"].startswith("LI6")) > 20
    assert all(s["half"] == pytest.approx(0.5, abs=1e-3) for s in sheets)
    found = {
        "in another face than the shipped one": faults_of(browser.wrong_font, sheets),
        "text on text": faults_of(browser.overlaps, sheets),
        "text on a heavy line": faults_of(browser.on_heavy_lines, sheets),
        "text outside the frame": faults_of(browser.outside_frame, sheets),
        "below the floor at half size": [f for s in sheets for f in browser.too_small(s, letters.floor)],
        "leaders that cross": faults_of(browser.crossing_leaders, sheets),
        "leaders that fan out": faults_of(browser.fans, sheets),
        "symbols and legend": browser.legend_faults(sheets),
        "scheduled and not labelled on a plan": browser.unlabelled(sheets, letters.note),
    }
    told = [f"{what}:\n  " + "\n  ".join(faults) for what, faults in found.items() if faults]
    if told:
        pytest.fail("\n".join(told), pytrace=False)


def _spoilt(svg: str) -> str:
    """Return the plan with: one label moved onto the next, one out of the frame, one small, one on a main."""
    first, second, third, fourth = (_text_of(svg, name) for name in ("H12", "H22", "H32", "H35"))
    at = re.search(r'x="[\d.]+" y="[\d.]+"', second)
    main = re.search(r'class="pipe-mainline".*?points="([\d.]+),([\d.]+) ([\d.]+),([\d.]+)', svg)
    assert at and main
    x0, y0, x1, y1 = map(float, main.groups())
    middle = f'x="{(x0 + x1) / 2:.3f}" y="{(y0 + y1) / 2 + 1:.3f}"'
    new = {
        first: re.sub(r'x="[\d.]+" y="[\d.]+"', at[0], first),
        third: third.replace("<text", '<text font-size="2.2"').replace('"2.2" font-size=', '"2.2" data-was='),
        fourth: re.sub(r'x="[\d.]+" y="[\d.]+"', middle, fourth),
        second: re.sub(r' x="[\d.]+"', ' x="1"', second) + "</text>" + second,
    }
    for old, spoilt in new.items():
        svg = svg.replace(old, spoilt)
    return svg


def _text_of(svg: str, name: str) -> str:
    found = re.search(rf"<title>Label of {name}</title>(?:<rect[^>]*>)?(<text[^>]*>[^<]*)</text>", svg)
    assert found, name
    return found[1]


def test_labels_broken_on_purpose_are_seen(tmp_path):
    svgs, letters = drawn("residential")
    plan = next(svg for svg in svgs if 'data-sheet="LI101"' in svg)
    legend = next(svg for svg in svgs if 'data-sheet="LI001"' in svg)
    strange = _spoilt(plan).replace('class="symbol-rotor"', 'class="symbol-unheard-of"')
    sheets = browser.seen((strange, legend), tmp_path)
    assert len(faults_of(browser.overlaps, sheets)) >= 1
    assert len(faults_of(browser.outside_frame, sheets)) == 1
    assert len(browser.too_small(sheets[0], letters.floor)) == 1
    assert len(faults_of(browser.on_heavy_lines, sheets)) >= 1
    assert {"symbol unheard-of has no legend entry", "legend entry rotor is not used"} <= set(
        browser.legend_faults(sheets)
    )


def test_a_label_left_out_is_seen(tmp_path):
    svgs, letters = drawn("residential")
    wanted = [svg for svg in svgs if re.search(r'data-sheet="LI(101|111|601|602|603)"', svg)]
    without = [re.sub(r"(<title>Label of H22</title>.*?<text[^>]*>)[^<]*", r"\1gone", svg) for svg in wanted]
    assert browser.unlabelled(browser.seen(without, tmp_path), letters.note) == ["H22"]
