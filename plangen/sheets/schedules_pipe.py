"""Schedules of what lies in the ground: pipes, sleeves, tie distances; and the takeoff."""

from __future__ import annotations

from plangen.geometry.point import path_length
from plangen.hydraulics.results import Hydraulics
from plangen.layout.results import Layout
from plangen.model.design import Design
from plangen.model.waterworks import Pipe
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import fixed
from plangen.sheets.schedule_words import UNKNOWN, bore, corner_words, natural, say, say_si, taped
from plangen.sheets.tables import Column, Row, Table, numbered_notes

_D = Dimension
_ROLES = {"service": 0, "mainline": 1, "nipple": 2, "lateral": 3}


def pipe_table(design: Design, hydraulics: Hydraulics) -> Table:
    """Return the pipe schedule."""
    units = design.project.units
    checks = {check.pipe: check for check in hydraulics.pipes}
    rows = []
    for pipe in sorted(design.pipes, key=lambda p: (_ROLES.get(p.role, 9), natural(p.name))):
        check = checks.get(pipe.name)
        rows.append(
            Row(
                (
                    pipe.name,
                    f"{pipe.route[0].node or '-'} to {pipe.route[-1].node or 'end'}",
                    pipe.role + ("" if pipe.state == "new" else f", {pipe.state}"),
                    pipe.size.family + (f", {pipe.joints}" if pipe.joints else ""),
                    pipe.nominal.written,
                    bore(pipe.size.bore_m, units),
                    say_si(_length(pipe), _D.LENGTH, units),
                    "above grade" if pipe.above_grade else say(pipe.cover, units, small=True),
                    say_si(check.told_flow_m3s if check else None, _D.FLOW, units),
                    say_si(check.told_velocity_ms if check else None, _D.VELOCITY, units),
                    (check.case if check else "") or "none",
                ),
                pipe.name,
            )
        )
    return Table(
        "Pipe schedule",
        "pipes",
        (
            Column("Pipe"),
            Column("From, to", widest=30.0),
            Column("Role"),
            Column("Material, class", widest=30.0),
            Column("Size"),
            Column("Bore", "end"),
            Column("Length", "end"),
            Column("Cover", "end"),
            Column("Flow", "end"),
            Column("Velocity", "end"),
            Column("Case"),
        ),
        tuple(rows),
        "Bore: inside diameter of the class, not the nominal size. Flow and velocity: the hardest load case.",
    )


def sleeve_table(design: Design) -> Table:
    """Return the sleeve schedule."""
    units = design.project.units
    rows = []
    for sleeve in design.sleeves:
        pipe = design.pipe(sleeve.pipe)
        share = (pipe.size.od_m / sleeve.size.bore_m) ** 2 if pipe else None
        rows.append(
            Row(
                (
                    sleeve.name,
                    f"{sleeve.size.family} {sleeve.size.nominal}",
                    sleeve.pipe,
                    f"{pipe.nominal.written}" if pipe else UNKNOWN,
                    sleeve.under,
                    say(sleeve.extends, units, small=True),
                    say(sleeve.cover or (pipe.cover if pipe else None), units, small=True),
                    say_si(share, _D.RATIO, units),
                ),
                sleeve.name,
            )
        )
    heads = (
        "Sleeve",
        "Material, size",
        "Carries",
        "Pipe size",
        "Under",
        "Goes past each edge",
        "Cover",
        "Filled",
    )
    return Table("Sleeve schedule", "sleeves", tuple(Column(h, widest=24.0) for h in heads), tuple(rows))


def tie_table(design: Design, layout: Layout) -> Table:
    """Return two tape distances for each device that must be found again."""
    units = design.project.units
    rows = []
    for tie in layout.ties:
        if not tie.corner1:
            rows.append(Row((tie.object, tie.kind, "no two corners in sight", "-", "-", "-"), tie.object))
            continue
        rows.append(
            Row(
                (
                    tie.object,
                    tie.kind,
                    corner_words(tie.corner1),
                    UNKNOWN if tie.distance1_m is None else taped(tie.distance1_m, units),
                    corner_words(tie.corner2),
                    UNKNOWN if tie.distance2_m is None else taped(tie.distance2_m, units),
                ),
                tie.object,
            )
        )
    heads = ("Object", "Kind", "First corner", "Distance", "Second corner", "Distance")
    aligns = ("start", "start", "start", "end", "start", "end")
    columns = tuple(Column(h, a) for h, a in zip(heads, aligns, strict=True))
    note = "Level distances on the ground by this design; measure again when built and mark the record copy."
    return Table("Tie distances", "ties", columns, tuple(rows), note)


def takeoff_table(layout: Layout) -> Table:
    """Return the material takeoff."""
    listed = [
        Row(
            (
                line.item,
                line.size,
                _quantity(line.quantity, line.unit),
                line.unit,
                line.note,
            )
        )
        for line in layout.takeoff
    ]
    rows, notes = numbered_notes(listed, 4, 1)
    columns = (
        Column("Item", widest=52.0),
        Column("Size"),
        Column("Quantity", "end"),
        Column("Unit"),
        Column("Note", widest=34.0),
    )
    said = f"Product submitted: to be filled in by the installer.\n{notes}"
    return Table("Material takeoff", "takeoff", columns, rows, said.strip())


def _quantity(value: float, unit: str) -> str:
    """Return a quantity to the tenth, whole pieces whole; a little is never told as nothing."""
    text = fixed(value, 0 if unit == "each" else 1)
    return "< 0.1" if text == "0.0" and value > 0 else text


def _length(pipe: Pipe) -> float:
    return path_length(tuple(stop.point for stop in pipe.route))
