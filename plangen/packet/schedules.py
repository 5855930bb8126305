"""The schedules: zones, heads, drip, pipes, devices, and what each outlet does. Pure."""

from __future__ import annotations

from plangen.packet.contents import Contents
from plangen.packet.tables import Cell, Table, cells
from plangen.packet.tell import Tell, written
from plangen.sheets.hydraulic_rows import regulated_note


def schedules(contents: Contents) -> tuple[Table, ...]:
    """Return the tables of everything that is to be built."""
    tell = Tell(contents.units)
    return (
        _zones(contents, tell),
        _heads(contents, tell),
        _drips(contents),
        _pipes(contents, tell),
        _devices(contents),
    )


def _numbers(*texts: str) -> tuple[Cell, ...]:
    return tuple(Cell(text, number=True) for text in texts)


def _zones(contents: Contents, tell: Tell) -> Table:
    rows = []
    for zone in contents.design.zones:
        case = contents.hydraulics.case_of_zone(zone.name)
        flow = tell.flow(case.total_flow_m3s if case else None)
        budget = case.budget if case else None
        worst = budget.outlet if budget else ""
        spare = tell.pressure(budget.spare_m if budget else None)
        heads = str(len(contents.design.heads_of(zone.name)))
        rows.append(
            cells(zone.name, zone.label, zone.kind, zone.valve, ", ".join((*zone.areas, *zone.trees)))
            + _numbers(heads, flow)
            + (Cell(worst),)
            + _numbers(spare)
        )
    columns = (
        "Zone",
        "Name",
        "Kind",
        "Valve",
        "Waters",
        "Heads",
        "Flow",
        "Worst outlet",
        "Spare pressure there",
    )
    said = regulated_note(contents.hydraulics)
    note = f"{said[:1].upper()}{said[1:]}." if said else ""
    return Table("schedule-zones", "Zones", columns, tuple(rows), "The design has no zone.", note)


def _heads(contents: Contents, tell: Tell) -> Table:
    pressures = {o.name: o for c in contents.hydraulics.cases if len(c.zones) == 1 for o in c.outlets}
    rows = []
    for head in contents.design.heads:
        sweep = (head.arc_end_deg - head.arc_start_deg) % 360.0 or 360.0
        arc = f"{sweep:.0f} deg" if head.arc_known else "not stated"
        result = pressures.get(head.name)
        rows.append(
            cells(head.name, head.zone, head.part.label or head.part.name, head.pipe)
            + _numbers(
                arc,
                written(head.part.radius),
                tell.pressure(result.pressure_m if result else None),
                tell.flow(result.flow_m3s if result else None),
            )
        )
    columns = ("Head", "Zone", "Part", "On", "Arc", "Radius (data sheet)", "Pressure", "Flow")
    return Table("schedule-heads", "Heads", columns, tuple(rows), "The design has no head.")


def _drips(contents: Contents) -> Table:
    rows = tuple(
        cells(d.name, d.zone, d.part.label or d.part.name, d.area)
        + _numbers(d.row_spacing.written, written(d.part.emitter_spacing), written(d.part.flow))
        for d in contents.design.drips
    )
    columns = ("Drip area", "Zone", "Part", "Over", "Rows", "Emitters every", "Flow of one")
    return Table("schedule-drip", "Drip areas", columns, rows, "The design has no drip area.")


def _pipes(contents: Contents, tell: Tell) -> Table:
    checks = {c.pipe: c for c in contents.hydraulics.pipes}
    rows = []
    for pipe in contents.design.pipes:
        check = checks.get(pipe.name)
        ends = f"{pipe.route[0].node or 'point'} to {pipe.route[-1].node or 'point'}" if pipe.route else ""
        rows.append(
            cells(pipe.name, pipe.role, pipe.state, f"{pipe.size.family} {pipe.nominal.written}", ends)
            + _numbers(
                tell.length(check.length_m if check else None),
                tell.bore(pipe.size.bore_m),
                written(pipe.cover) if not pipe.above_grade else "above grade",
                tell.flow(check.told_flow_m3s if check else None),
                tell.velocity(check.told_velocity_ms if check else None),
            )
        )
    columns = (
        "Pipe",
        "Role",
        "State",
        "Kind and size",
        "From and to",
        "Length",
        "Bore",
        "Cover",
        "Flow",
        "Velocity",
    )
    note = "Flow and velocity are those of the load case that works the pipe hardest."
    return Table("schedule-pipes", "Pipes", columns, tuple(rows), "The design has no pipe.", note)


def _devices(contents: Contents) -> Table:
    rows = tuple(
        cells(
            d.name,
            d.kind.replace("-", " "),
            d.state,
            d.label or (d.part.label if d.part else ""),
            written(d.size),
            written(d.height),
            "yes" if d.in_box else "no",
            d.zone,
        )
        for d in contents.design.devices
        if d.kind != "tee"
    )
    columns = ("Device", "Kind", "State", "Part", "Size", "Height above grade", "In a box", "Zone")
    return Table("schedule-devices", "Valves and devices", columns, rows, "The design has no device.")
