"""Trees that a zone waters, the size of a box, and what is said of trenches and of the air in winter."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from plangen.diagnostics.diagnostic import Outcome
from plangen.diagnostics.render_text import render_all
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.text.source import SourceFile, SourceSet

GOLDEN = Path(__file__).with_name("golden")
BASE = (Path(__file__).parents[1] / "diagnostics" / "base.plan").read_text(encoding="utf-8")
TEXT = (
    BASE.replace(
        "  turf Front ", '  tree Oak1      "Oak", at (20, 28), canopy 20 ft, plant factor 0.4\n  turf Front '
    )
    .replace("waters         Front", "waters         Oak1, Front")
    .replace("valve-a, at (5, 36), size 1 in", 'valve-a, at (5, 36), size 1 in, box size "10 in round"')
    + """
procedure {
  trench width   4 in
  bedding        3 in, of "sand"
  warning tape   "blue", above pipe 12 in
  tracer wire    "14 AWG copper"
  purge pressure 40 psi
}
"""
)


def read(old: str = "", new: str = "") -> Outcome[Design]:
    assert old in TEXT
    return read_design(SourceFile.of("yard.plan", TEXT.replace(old, new, 1) if old else TEXT))


def test_each_is_read() -> None:
    outcome = read()
    assert outcome.problems == () and outcome.value is not None
    design = outcome.value
    (zone,), (tree,) = design.zones, design.site.trees
    assert (zone.areas, zone.trees) == (("Front",), ("Oak1",))
    assert tree.plant_factor is not None and tree.plant_factor.si == 0.4
    valve = design.device("V1")
    assert valve is not None and valve.in_box and valve.box_size == "10 in round"
    assert {name: q.written for name, q in design.procedure_facts} == {
        "bedding": "3 in",
        "purge pressure": "40 psi",
        "trench width": "4 in",
        "warning tape": "12 in",
    }
    assert dict(design.procedure_words) == {
        "bedding": "sand",
        "tracer wire": "14 AWG copper",
        "warning tape": "blue",
    }


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("waters-a-building", "Oak1, Front", "Oak1, House"),
        ("bedding-without-depth", '3 in, of "sand"', 'of "sand"'),
        ("trench-in-psi", "4 in", "4 psi"),
        ("tape-without-text", '"blue", above pipe 12 in', "above pipe 12 in"),
    ],
)
def test_a_slip_is_told(name: str, old: str, new: str, hold_to_golden: Callable[[Path, str], None]) -> None:
    source = SourceFile.of("yard.plan", TEXT.replace(f" {old}", f" {new}", 1))
    problems = read_design(source).problems
    assert len(problems) == 1
    hold_to_golden(GOLDEN / f"{name}.txt", render_all(problems, SourceSet((source,))))
