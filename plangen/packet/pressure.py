"""The pressure budget as a table, and the figures of every load case. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.hydraulics.results import Budget, CaseResult
from plangen.packet.contents import Contents
from plangen.packet.profile import Profile, profile
from plangen.packet.tables import Cell, Table, cells
from plangen.packet.tell import Tell
from plangen.sheets.hydraulic_rows import regulated_note


@dataclass(frozen=True, slots=True)
class CaseView:
    """One load case: its sentence, its budget and its profile; `worst` marks the hardest of all."""

    case: str
    zones: str
    worst: bool
    sentence: str
    budget: Table | None
    profile: Profile | None


def case_views(contents: Contents) -> tuple[CaseView, ...]:
    """Return every load case, the hardest first."""
    worst = contents.hydraulics.worst
    ordered = sorted(
        contents.hydraulics.cases, key=lambda c: (c.case != worst, contents.hydraulics.cases.index(c))
    )
    return tuple(_view(case, case.case == worst, contents) for case in ordered)


def cases_table(contents: Contents) -> Table:
    """Return all load cases side by side: how the hardest is proved to be it."""
    tell = Tell(contents.units)
    rows = []
    for case in contents.hydraulics.cases:
        budget = case.budget
        rows.append(
            (
                Cell(case.case),
                Cell(", ".join(case.zones)),
                Cell(tell.flow(case.total_flow_m3s), number=True),
                Cell(budget.outlet if budget else "none"),
                Cell(tell.pressure(budget.available_m if budget else None), number=True),
                Cell(tell.pressure(budget.required_m if budget else None), number=True),
                Cell(tell.pressure(budget.spare_m if budget else None), number=True),
            )
        )
    columns = ("Load case", "Zones", "Flow", "Worst outlet", "Pressure there", "Needs", "Spare")
    note = "Every case was solved; the hardest is the one with the least spare pressure."
    said = regulated_note(contents.hydraulics)
    note += f" {said[:1].upper()}{said[1:]}." if said else ""
    return Table("load-cases", "All load cases", columns, tuple(rows), "No load case was solved.", note)


def _view(case: CaseResult, worst: bool, contents: Contents) -> CaseView:
    tell, budget = Tell(contents.units), case.budget
    if budget is None:
        return CaseView(
            case.case, ", ".join(case.zones), worst, "This case has no outlet to budget for.", None, None
        )
    spare = budget.spare_m
    need = (
        "What it needs is not known, so nothing can be said of its margin."
        if spare is None
        else f"It needs {tell.pressure(budget.required_m)}: {tell.pressure(abs(spare))} "
        + ("to spare" if spare >= 0 else "SHORT")
        + (", counting what the regulator takes off." if budget.regulator_m > 0 else ".")
    )
    sentence = (
        f"From {budget.source_node} at {tell.pressure(budget.source_pressure_m)} the worst outlet"
        f" {budget.outlet} is left {tell.pressure(budget.available_m)}. {need}"
    )
    table = _budget_table(budget, case.case, tell)
    return CaseView(
        case.case, ", ".join(case.zones), worst, sentence, table, profile(budget, case.case, contents.units)
    )


def _budget_table(budget: Budget, case: str, tell: Tell) -> Table:
    rows = []
    for line in budget.lines:
        bore = tell.bore(line.bore_m) if line.bore_m is not None else ""
        length = tell.length(line.length_m) if line.length_m is not None else ""
        velocity = tell.velocity(line.velocity_ms) if line.velocity_ms is not None else ""
        rows.append(
            (
                Cell(line.id),
                *cells(line.description, line.nominal),
                *(Cell(t, number=True) for t in (bore, length)),
                Cell(line.fittings),
                *(
                    Cell(t, number=True)
                    for t in (
                        tell.flow(line.flow_m3s),
                        velocity,
                        tell.pressure(line.loss_m),
                        tell.length(line.rise_m),
                        tell.pressure(line.pressure_after_m),
                    )
                ),
                Cell(line.source),
            )
        )
    columns = (
        "Component",
        "What it is",
        "Size",
        "Bore",
        "Length",
        "Fittings",
        "Flow",
        "Velocity",
        "Loss",
        "Rise",
        "Pressure after",
        "Loss from",
    )
    caption = f"Pressure budget of case {case}, from {budget.source_node} to {budget.outlet}"
    return Table(f"budget-{case}", caption, columns, tuple(rows), "No component on the way.")
