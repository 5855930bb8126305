"""Facts of pipes and their sleeves: where they lie, what they carry, what they bear."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from plangen.facts.assembly_rows import protected
from plangen.facts.project_rows import frost_expected
from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import given, inputs, known, row, stated, unknown, worked
from plangen.hydraulics.element_inputs import WARMEST, bore_inputs, stiffness_input, warmth_inputs
from plangen.hydraulics.results import PipeCheck
from plangen.layout.results import Crossing
from plangen.model.parts import PipeSize
from plangen.model.pipe_table import pipe_size, sizes_of
from plangen.model.waterworks import Pipe, Sleeve
from plangen.quantity.dimension import head_to_pressure_pa
from plangen.quantity.evidence import Input

# The material a family of the pipe table is made of, by how its name begins.
_MATERIALS = (
    ("cpvc", "cpvc"),
    ("pvc", "pvc"),
    ("copper", "copper"),
    ("pex", "pex"),
    ("pe", "polyethylene"),
    ("steel", "steel"),
    ("ductile", "iron"),
    ("iron", "iron"),
)
_CLOSE_BETWEEN_RUNS = ("valve", "master-valve")


def pipe_rows(survey: Survey) -> list[Row]:
    """Return one row for each pipe."""
    cold = _charged(survey, _shut_for_winter(survey))
    live = _charged(survey, survey.path.of_kinds(_CLOSE_BETWEEN_RUNS))
    crossed: dict[str, list[Crossing]] = {}
    for crossing in survey.layout.crossings:
        if crossing.kind == "paving":
            crossed.setdefault(crossing.pipe, []).append(crossing)
    return [
        row("pipe", p.name, p.span, _pipe_values(survey, p, cold, live, crossed.get(p.name, [])))
        for p in survey.path.pipes.values()
    ]


def sleeve_rows(survey: Survey) -> list[Row]:
    """Return one row for each sleeve."""
    rows = []
    for sleeve in survey.design.sleeves:
        pipe = survey.path.pipes.get(sleeve.pipe)
        if pipe is not None:
            rows.append(row("sleeve", sleeve.name, sleeve.span, _sleeve_values(sleeve, pipe)))
    return rows


def size_input(size: PipeSize) -> Input:
    """Return a row of the pipe table as an input: its bore and outside diameter with their source."""
    return Input(
        f"{size.family} {size.nominal}",
        f"bore {size.bore_m * 1000:.2f} mm, outside {size.od_m * 1000:.2f} mm",
        size.provenance,
    )


def material(family: str) -> str:
    """Return the material of a family of the pipe table."""
    return next((m for prefix, m in _MATERIALS if family.startswith(prefix)), "other")


def _pipe_values(
    survey: Survey, pipe: Pipe, cold: frozenset[str], live: frozenset[str], crossed: list[Crossing]
) -> dict[str, Value]:
    start = survey.path.pipe_start(pipe)
    fed = start in survey.path.reached_from_source
    no_way = unknown(f"no path leads from the supply to {pipe.name}")
    values = {
        "role": known(pipe.role),
        "state": known(pipe.state),
        "material": known(material(pipe.size.family)),
        "family": known(pipe.size.family),
        "size": stated("size", pipe.nominal, ""),
        **_depths(survey, pipe),
        "frost_expected": frost_expected(survey),
        "pressurised_all_year": known(start in cold) if fed else no_way,
        "under_constant_pressure": known(start in live) if fed else no_way,
        "downstream_of_assembly": _downstream_of_assembly(survey, start, no_way),
        **_water(survey, pipe),
        "crosses_paving": known(bool(crossed)),
        "unsleeved_paving": _unsleeved(crossed),
    }
    return values


def _shut_for_winter(survey: Survey) -> frozenset[str]:
    """Return what stops the water for winter: isolation and zone valves, and assemblies.

    A testable assembly is made with two shutoffs of its own (the USC manual of cross-connection control, from
    memory); an atmospheric vacuum breaker, a pipe interrupter and an air gap have none.
    """
    own = {
        n
        for n, d in survey.path.devices.items()
        if d.kind == "assembly" and d.assembly_kind not in ("avb", "db", "air-gap", "")
    }
    return survey.path.of_kinds(("isolation", *_CLOSE_BETWEEN_RUNS)) | own


def _charged(survey: Survey, shut: frozenset[str]) -> frozenset[str]:
    """Return the places from which a pipe still gets pressure although these devices are shut."""
    return survey.path.reached((survey.path.source,), shut) - shut


def _downstream_of_assembly(survey: Survey, start: str, no_way: Value) -> Value:
    device = survey.path.devices.get(start)
    if device is not None and device.kind == "assembly":
        return known(True, f"it begins at {start}")
    found = protected(survey, start)
    return no_way if found.value is None else found


def _unsleeved(crossed: list[Crossing]) -> Value:
    bare = sorted({c.name for c in crossed if not c.sleeve})
    return known(bool(bare), f"under {', '.join(bare)}" if bare else "")


def _depths(survey: Survey, pipe: Pipe) -> dict[str, Value]:
    frost = survey.design.site.frost_depth
    cover = stated("cover", pipe.cover, f"the cover of {pipe.name} is not stated")
    below = unknown(*cover.missing, *(() if frost else ("the frost depth is not stated",)))
    if frost is not None and pipe.cover is not None:
        basis = inputs(given("cover", pipe.cover), given("frost depth", frost))
        below = worked(pipe.cover.si - frost.si, "cover less frost depth", basis)
    return {"cover": cover, "cover_below_frost": below, "buried": known(not pipe.above_grade)}


def _water(survey: Survey, pipe: Pipe) -> dict[str, Value]:
    check = survey.checks.get(pipe.name)
    if check is None:
        lost = unknown(*survey.why_unsolved(pipe.zone) if pipe.zone else survey.why_unsolved())
        return dict.fromkeys(_WATER_FIELDS, lost)
    bore = bore_inputs(pipe)
    rated = _rated_by(survey, pipe)
    still = check.static_inputs
    # The speed in a pipe that carries nothing is nothing in any bore.
    running = moving = inputs(*check.flow_inputs, *(bore if check.flow_m3s > 0 else ()))
    how = f"load case {check.case}" if check.case else "it carries no flow in any load case"
    no_surge = unknown(f"the stiffness of {pipe.size.family} is not in the pipe table")
    # Without every elevation the static figure is only a floor: not enough to pass on.
    no_static = unknown(*check.static_missing)
    static = worked(head_to_pressure_pa(check.static_pressure_m), "no flow", still)
    surge = both = no_surge
    if check.surge_m is not None:
        moving = inputs(*moving, *((stiffness_input(pipe.size),) if check.flow_m3s > 0 else ()))
        surge = worked(head_to_pressure_pa(check.surge_m), how, moving)
        total = check.static_pressure_m + check.surge_m
        both = worked(head_to_pressure_pa(total), f"no flow, plus surge; {how}", (*still, *moving))
    if not check.static_known:
        static, both = no_static, no_static
    flow = worked(check.flow_m3s, how, check.flow_inputs)
    velocity = worked(check.velocity_ms, how, running)
    if not check.flow_known:
        # A case in which this pipe may carry water was not solved: its greatest flow is not known.
        flow = velocity = surge = both = unknown(*survey.why_unsolved())
    return {
        "flow": flow,
        "velocity": velocity,
        "static_pressure": static,
        "surge": surge,
        "static_and_surge": both,
        "pressure_rating": _rating(pipe, check, rated),
        "static_share_of_rating": _share(static, pipe, check, rated),
        "surge_share_of_rating": _share(both, pipe, check, rated),
    }


_WATER_FIELDS = (
    "flow",
    "velocity",
    "static_pressure",
    "surge",
    "static_and_surge",
    "pressure_rating",
    "static_share_of_rating",
    "surge_share_of_rating",
)


def _rating(pipe: Pipe, check: PipeCheck, rated: tuple[Input, ...]) -> Value:
    if check.rating_m is None:
        return unknown(
            f"the pressure rating of {pipe.size.family} {pipe.size.nominal} is not in the pipe table"
        )
    warm = next((i for i in rated if i.name == WARMEST), None)
    how = f"pipe table, {WARMEST} {warm.written}" if warm is not None else "pipe table"
    return worked(head_to_pressure_pa(check.rating_m), how, rated)


def _rated_by(survey: Survey, pipe: Pipe) -> tuple[Input, ...]:
    """Return what a rating rests on: the row of the table, the size where other sizes bear another pressure,
    and the temperature where warmth lowers it.
    """
    size, table_row = bore_inputs(pipe)
    own = None if _one_rating(pipe.size.family) else size
    return inputs(own, table_row, *warmth_inputs(survey.design, pipe.size))


@cache
def _one_rating(family: str) -> bool:
    """Return whether every size of a family bears the same pressure, as sizes of one SDR do."""
    return len({pipe_size(family, nominal).rating_pa for nominal in sizes_of(family)}) == 1  # type: ignore[union-attr]


def _share(pressure: Value, pipe: Pipe, check: PipeCheck, rated: tuple[Input, ...]) -> Value:
    rating = _rating(pipe, check, rated)
    if not isinstance(pressure.value, float) or not isinstance(rating.value, float):
        return unknown(*pressure.missing, *rating.missing)
    return worked(pressure.value / rating.value, pressure.how, _joined(pressure.inputs, rating.inputs))


def _joined(*groups: Iterable[Input]) -> tuple[Input, ...]:
    return tuple(i for group in groups for i in group)


def _sleeve_values(sleeve: Sleeve, pipe: Pipe) -> dict[str, Value]:
    nominal = sleeve.nominal
    sizes = inputs(given(f"size of {sleeve.name}", nominal), size_input(sleeve.size), *bore_inputs(pipe))
    values = {
        "size": stated("size", nominal, f"the size of {sleeve.name} is not stated"),
        "pipe_size": stated("pipe size", pipe.nominal, ""),
        "size_over_pipe": unknown(f"the size of {sleeve.name} is not stated"),
        "bore_over_pipe": worked(sleeve.size.bore_m / pipe.size.od_m, f"sleeve bore over {pipe.name}", sizes),
        "extends": stated("extends", sleeve.extends, f"how far {sleeve.name} extends is not stated"),
        "cover": stated(
            "cover",
            sleeve.cover or pipe.cover,
            f"the cover of {sleeve.name} and of {pipe.name} is not stated",
        ),
        "under": known(sleeve.under),
    }
    if nominal is not None and pipe.nominal.si > 0:
        both = inputs(given("sleeve size", nominal), given("pipe size", pipe.nominal))
        values["size_over_pipe"] = worked(nominal.si / pipe.nominal.si, f"over {pipe.name}", both)
    return values
