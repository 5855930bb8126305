"""The rows of the hydraulics sheet in words of the project's units. Data for the sheet and for the packet.

Copies solved figures; solves nothing and judges nothing. What is not known reads `not known`.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.hydraulics.results import Budget, CaseResult, Hydraulics, OutletResult, PipeCheck, spare_of
from plangen.hydraulics.studies import Strength
from plangen.model.design import Design
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import DISPLAY, SMALL_LENGTH, fixed
from plangen.quantity.quantity import si_to
from plangen.sheets.procedure_fill import fill_plan, natural

NOT_KNOWN = "not known"


@dataclass(frozen=True, slots=True)
class Spare:
    """The outlet that has the least pressure to spare in a case, or comes next: heads in metres."""

    case: str
    outlet: str
    available_m: float
    required_m: float
    regulator_m: float = 0.0

    @property
    def spare_m(self) -> float:
        """Return what is left over the need, and what a regulator at work would give up first."""
        return spare_of(self.available_m, self.required_m, self.regulator_m)


def regulated_note(hydraulics: Hydraulics, lead: str = "") -> str:
    """Return what the spare of regulated outlets means, after `lead`; empty where no regulator works."""
    if not any(outlet.regulator_m > 0 for case in hydraulics.cases for outlet in case.outlets):
        return ""
    return (
        f"{lead}behind a regulator the spare counts the pressure that the regulator takes off, which is there"
        " when the supply falls"
    )


def unit_of(dimension: Dimension, system: str, small: bool = False) -> str:
    """Return the unit that a column is told in."""
    return SMALL_LENGTH[system][0] if small else DISPLAY[system][dimension][0]


def figure(si: float | None, dimension: Dimension, system: str, decimals: int | None = None) -> str:
    """Return a bare figure for a column, in the unit of `unit_of`."""
    if si is None:
        return NOT_KNOWN
    unit, places = DISPLAY[system][dimension]
    return fixed(si_to(si, dimension, unit), places if decimals is None else decimals)


def pressure(head_m: float | None, system: str) -> str:
    """Return a pressure head as a bare pressure figure to the hundredth."""
    return NOT_KNOWN if head_m is None else figure(head_to_pressure_pa(head_m), Dimension.PRESSURE, system, 2)


def bore(si_m: float | None, system: str) -> str:
    """Return a bore in inches to the thousandth, or millimetres to the tenth."""
    if si_m is None:
        return "-"
    unit = SMALL_LENGTH[system][0]
    return fixed(si_to(si_m, Dimension.LENGTH, unit), 3 if unit == "in" else 1)


def budget_heads(system: str) -> tuple[str, ...]:
    """Return the heads of the budget worksheet."""
    p, length = unit_of(Dimension.PRESSURE, system), unit_of(Dimension.LENGTH, system)
    return (
        "No.",
        "Component",
        "Description",
        f"Flow {unit_of(Dimension.FLOW, system)}",
        "Size",
        f"Bore {unit_of(Dimension.LENGTH, system, True)}",
        f"Length {length}",
        "Fittings",
        f"Velocity {unit_of(Dimension.VELOCITY, system)}",
        f"Loss {p}",
        f"Rise {length}",
        f"Rise {p}",
        f"After {p}",
        "Source of the loss",
    )


def budget_rows(budget: Budget, system: str) -> tuple[tuple[str, ...], ...]:
    """Return one row for the source and one for each component, in flow order."""
    first = (
        "0",
        budget.source_node,
        "Pressure at the source",
        *["-"] * 9,
        pressure(budget.source_pressure_m, system),
        "",
    )
    rows = [first]
    for number, line in enumerate(budget.lines, start=1):
        rows.append(
            (
                str(number),
                line.object or line.id,
                line.description,
                figure(line.flow_m3s, Dimension.FLOW, system),
                line.nominal or "-",
                bore(line.bore_m, system),
                "-" if line.length_m is None else figure(line.length_m, Dimension.LENGTH, system),
                line.fittings or "-",
                "-" if line.velocity_ms is None else figure(line.velocity_ms, Dimension.VELOCITY, system),
                pressure(line.loss_m, system),
                figure(line.rise_m, Dimension.LENGTH, system, 2),
                pressure(line.rise_m, system),
                pressure(line.pressure_after_m, system),
                line.source,
            )
        )
    return tuple(rows)


def spares(hydraulics: Hydraulics) -> tuple[Spare, ...]:
    """Return every outlet of every case whose need is known, the least spare first."""
    found = [
        Spare(case.case, outlet.name, outlet.pressure_m, outlet.low_m, outlet.regulator_m)
        for case in hydraulics.cases
        for outlet in case.outlets
        if outlet.low_m is not None
    ]
    return tuple(sorted(found, key=lambda s: (s.spare_m, natural(s.case), natural(s.outlet))))


def worst_of(case: CaseResult) -> OutletResult | None:
    """Return the outlet with the least spare of a case, or the lowest pressure if no need is known."""
    known = [o for o in case.outlets if o.low_m is not None]
    if known:
        return min(known, key=lambda o: (o.spare_m or 0.0, natural(o.name)))
    return min(case.outlets, key=lambda o: (o.pressure_m, natural(o.name)), default=None)


def case_heads(system: str) -> tuple[str, ...]:
    """Return the heads of the table of zones."""
    p = unit_of(Dimension.PRESSURE, system)
    return (
        "Case",
        "Zones",
        f"Flow {unit_of(Dimension.FLOW, system)}",
        "Worst outlet",
        f"Available {p}",
        f"Required {p}",
        f"Spare {p}",
        f"Greatest velocity {unit_of(Dimension.VELOCITY, system)}",
        "In pipe",
    )


def case_rows(hydraulics: Hydraulics, system: str) -> tuple[tuple[str, ...], ...]:
    """Return one row for each solved case and one for each that failed, named."""
    rows = []
    for case in sorted(hydraulics.cases, key=lambda c: natural(c.case)):
        outlet = worst_of(case)
        budget = case.budget
        available = budget.available_m if budget else (outlet.pressure_m if outlet else None)
        required = budget.required_m if budget else (outlet.low_m if outlet else None)
        spare = budget.spare_m if budget else (outlet.spare_m if outlet else None)
        fastest = max(
            (r for r in case.solution.links if r.link.kind == "pipe"),
            key=lambda r: (r.velocity_ms, r.link.object),
            default=None,
        )
        rows.append(
            (
                case.case,
                ", ".join(case.zones),
                figure(case.total_flow_m3s, Dimension.FLOW, system),
                budget.outlet if budget else (outlet.name if outlet else "-"),
                pressure(available, system),
                pressure(required, system),
                pressure(spare, system),
                figure(fastest.velocity_ms if fastest else None, Dimension.VELOCITY, system),
                fastest.link.object if fastest else "-",
            )
        )
    blank = ("-", "-", "-")
    rows += [(f.case or "-", *blank, "NOT SOLVED", *blank, f.message) for f in hydraulics.failures]
    return tuple(rows)


def pipe_heads(system: str) -> tuple[str, ...]:
    """Return the heads of the pipe checks."""
    p = unit_of(Dimension.PRESSURE, system)
    return (
        "Pipe",
        "Case",
        f"Flow {unit_of(Dimension.FLOW, system)}",
        f"Velocity {unit_of(Dimension.VELOCITY, system)}",
        f"Static {p}",
        f"Surge {p}",
        f"Static + surge {p}",
        f"Rating at 73 F {p}",
        f"Rating as warm as stated {p}",
        "Holds",
    )


def pipe_rows(hydraulics: Hydraulics, system: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return (pipe, row) of each pipe's hardest case."""
    studies = hydraulics.studies
    strengths = {s.pipe: s for s in studies.strengths} if studies is not None else {}
    return tuple(
        (c.pipe, _pipe_row(c, strengths.get(c.pipe), system))
        for c in sorted(hydraulics.pipes, key=lambda c: natural(c.pipe))
    )


def _pipe_row(c: PipeCheck, strength: Strength | None, system: str) -> tuple[str, ...]:
    static, surge = c.told_static_m, c.told_surge_m
    return (
        c.pipe,
        c.case or "none",
        figure(c.told_flow_m3s, Dimension.FLOW, system),
        figure(c.told_velocity_ms, Dimension.VELOCITY, system),
        pressure(static, system),
        pressure(surge, system),
        pressure(None if static is None or surge is None else static + surge, system),
        pressure(strength.rating_m if strength is not None else c.rating_m, system),
        pressure(strength.derated_m if strength is not None else None, system),
        _holds(strength),
    )


def _holds(strength: Strength | None) -> str:
    if strength is None or strength.holds is None:
        return NOT_KNOWN
    return "yes" if strength.holds else "NO"


def fill_heads(system: str) -> tuple[str, ...]:
    """Return the heads of the filling and flushing table."""
    flow = unit_of(Dimension.FLOW, system)
    return (
        "Pipe",
        "Size",
        "Role",
        f"Length {unit_of(Dimension.LENGTH, system)}",
        f"Volume {unit_of(Dimension.VOLUME, system)}",
        f"Fill {flow}",
        "Fill time min",
        f"Flush {flow}",
    )


def fill_rows(design: Design, system: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return (pipe, row) of what each new pipe takes to fill and flush."""
    return tuple(
        (
            r.pipe,
            (
                r.pipe,
                r.size,
                r.role,
                figure(r.length_m, Dimension.LENGTH, system),
                figure(r.volume_m3, Dimension.VOLUME, system, 2),
                figure(r.fill_m3s, Dimension.FLOW, system),
                fixed(r.fill_s / 60, 1),
                figure(r.flush_m3s, Dimension.FLOW, system),
            ),
        )
        for r in fill_plan(design).rows
    )
