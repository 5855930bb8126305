"""All studies of a solved design in one call, with what was taken for them."""

from __future__ import annotations

from collections.abc import Sequence

from plangen.hydraulics.assemble import Assembly
from plangen.hydraulics.cases import Branches
from plangen.hydraulics.mishaps import MANNING_N, breaks, house_left, reliefs
from plangen.hydraulics.results import CaseResult, Failure, PipeCheck
from plangen.hydraulics.running_back import expansion, siphons
from plangen.hydraulics.sensitivity import Solves, least_pressure, what_ifs
from plangen.hydraulics.site_readings import LOSS_SHARE, judged, predicted
from plangen.hydraulics.strength import SLOW_TIMES, closings, meter_loads, strengths
from plangen.hydraulics.studies import Studies, WhatIf
from plangen.hydraulics.study_inputs import study_inputs
from plangen.hydraulics.temperature import rows_about


def study(
    ready: Assembly,
    found: Branches,
    cases: Sequence[CaseResult],
    failures: Sequence[Failure],
    checks: Sequence[PipeCheck],
) -> Studies:
    """Return what the water does when things are not as designed."""
    relieved, broken = reliefs(ready), breaks(ready, found, cases)
    shutting, solves = closings(ready, cases), Solves(ready)
    asked = what_ifs(solves, cases)
    return Studies(
        what_ifs=asked,
        least=least_pressure(solves, cases, failures),
        predicted=predicted(solves, cases),
        judged=judged(ready, cases),
        reliefs=relieved,
        breaks=broken,
        house=house_left(ready, cases),
        siphons=siphons(ready),
        expansion=expansion(ready),
        strengths=strengths(ready, checks),
        closings=shutting,
        meters=meter_loads(ready, cases),
        notes=(*_worn_note(asked), *_notes(ready, bool(relieved))),
        inputs=study_inputs(ready, asked, relieved, broken),
    )


def _worn_note(asked: Sequence[WhatIf]) -> tuple[str, ...]:
    """Return which C was taken for worn pipe."""
    return tuple(f"Worn pipe: {w.basis}." for w in asked if w.question == "worn pipe" and w.basis)


def _notes(ready: Assembly, relieved: bool) -> tuple[str, ...]:
    """Return what was taken for the studies, each with its source."""
    out = [
        "Readings: tolerance of 2 psi for the gauge (two per cent of a 100 psi gauge, grade B, from memory)"
        f" and {LOSS_SHARE:.0%} of the loss up to the point (common practice, no source), as the root of the"
        " sum of squares. Read at the height of the device or nozzle.",
        "A broken main is taken as an open end of its bore at the assembly, all velocity head lost, no other"
        " draw; loss curves are carried on by the square of the flow where it is beyond them.",
    ]
    source = ready.design.source
    if source is not None and source.temperature is not None:
        rows = rows_about(source.temperature.si)
        used = "; ".join(dict.fromkeys(f"{f.source} ({f.basis})" for f in rows)) or "no table"
        out.append(
            f"Ratings at {source.temperature.written}: factors of PVC from {used}; metal keeps its rating up"
            " to 100 F (from memory)."
        )
    else:
        out.append("Ratings: the highest temperature is not stated, so what is left of them is not known.")
    if any(d.part is not None and d.part.closing_time is not None for d in ready.design.devices):
        out.append(
            f"Slow closing counts only from {SLOW_TIMES:g} times the time a wave takes there and back (common"
            " practice, no source): surge = sum of length x velocity / (g x closing time)."
        )
    if relieved:
        out.append(
            f"Drains run full without pressure by Manning, n {MANNING_N:g} (from memory); where no slope is"
            " stated, the least of the Chicago Plumbing Code, table 18-29-704.1, is taken. Relief flow goes"
            " with the square root of the pressure."
        )
    return tuple(out)
