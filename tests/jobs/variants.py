"""The residential job run in memory, as written and with one edit, and what differs between the two."""

from __future__ import annotations

import dataclasses
from functools import cache
from pathlib import Path

from plangen.build.inputs import Input
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import Checked, run_stages
from plangen.sheets.marks import Group, Sheet, Text
from plangen.text.source import SourceFile

ROOT = Path(__file__).resolve().parents[2]
LETTERING = ("callout", "label", "leader")
RESIDENTIAL = ROOT / "examples" / "residential" / "design.plan"


@cache
def job(*edits: tuple[str, str]) -> Checked:
    """Return the residential job after replacing each old text, which must occur exactly once, by the new."""
    text = RESIDENTIAL.read_text(encoding="utf-8")
    for old, new in edits:
        assert text.count(old) == 1, f"{old!r} occurs {text.count(old)} times"
        text = text.replace(old, new)
    packs = read_packs().value
    assert packs is not None
    source = SourceFile.of("design.plan", text)
    run = run_stages(Input("design.plan", text.encode(), source), packs, lambda _: None)
    assert run.checked is not None, run.problems
    return run.checked


def groups(sheet: Sheet) -> dict[tuple[str, str], list[str]]:
    """Return every group that belongs to a design object, by role and object, as text with places kept."""
    found: dict[tuple[str, str], list[str]] = {}

    def walk(group: Group) -> None:
        if group.object:
            found.setdefault((group.role, group.object), []).append(repr(_unnumbered(group)))
            return
        for mark in group.marks:
            if isinstance(mark, Group):
                walk(mark)

    for top in sheet.marks:
        walk(top)
    return found


def _unnumbered(group: Group) -> Group:
    """A bubble without its numbers: details count by sheet, one more renumbers others."""
    if group.role != "callout":
        return group
    places = tuple(m for m in group.marks if not isinstance(m, Text))
    return dataclasses.replace(group, title="", marks=places)


def moved_objects(before: Checked, after: Checked, sheet_id: str, lettering: bool = True) -> set[str]:
    """Return the objects whose marks on a sheet differ between two runs; or only the drawn ones."""
    a, b = (groups(next(s for s in run.sheets.sheets if s.id == sheet_id)) for run in (before, after))
    return {
        obj
        for (role, obj) in a.keys() | b.keys()
        if a.get((role, obj)) != b.get((role, obj)) and (lettering or role not in LETTERING)
    }


def changed_findings(before: Checked, after: Checked) -> set[str]:
    """Return the ids of findings whose status or measured value differs."""
    a, b = (
        {f.id: (f.status, f.measured.words if f.measured else "") for f in run.findings}
        for run in (before, after)
    )
    return {key for key in a.keys() | b.keys() if a.get(key) != b.get(key)}


def changed_takeoff(before: Checked, after: Checked) -> set[tuple[str, str, str]]:
    """Return (group, item, size) of the takeoff lines that differ."""
    a, b = (
        {(line.group, line.item, line.size): dataclasses.replace(line) for line in run.layout.takeoff}
        for run in (before, after)
    )
    return {key for key in a.keys() | b.keys() if a.get(key) != b.get(key)}
