"""Facts of who does which step of the work. Which trade a step needs is for the packs to say."""

from __future__ import annotations

import datetime
from collections.abc import Sequence

from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import known, row, unknown
from plangen.model.design import Design
from plangen.model.work import Doer, doers_of, steps_in_order
from plangen.quantity.evidence import Input
from plangen.quantity.quantity import DECLARED


def work_rows(survey: Survey) -> list[Row]:
    """Return one row for each step of the work that the design holds."""
    design = survey.design
    return [_work_row(design, step, doers_of(design, step)) for step in steps_in_order(design)]


def _work_row(design: Design, step: str, doers: tuple[Doer, ...]) -> Row:
    names = ", ".join(d.name for d in doers)
    nobody = unknown(f"who does the step {step} is not stated")
    values = {
        "step": known(step),
        "named": known(bool(doers), names or "nobody is named"),
        "trades": _trades(step, doers) if doers else nobody,
        "licence_given": _licence_given(doers) if doers else nobody,
        "licence_current": _licence_current(doers, design.project.issued) if doers else nobody,
    }
    return row("work", step, doers[0].span if doers else design.project.span, values)


def _trades(step: str, doers: Sequence[Doer]) -> Value:
    if any(not d.trades for d in doers):
        return unknown(f"the trade of {', '.join(d.name for d in doers if not d.trades)} is not stated")
    trades = tuple(sorted({t for d in doers for t in d.trades}))
    return known(trades, f"{step}: {', '.join(d.name for d in doers)}", *(_input(d) for d in doers))


def _licence_given(doers: Sequence[Doer]) -> Value:
    without = [d.name for d in doers if not d.licence]
    return known(not without, f"no licence number for {', '.join(without)}" if without else "")


def _licence_current(doers: Sequence[Doer], issued: datetime.date | None) -> Value:
    missing = [f"the day the licence of {d.name} ends is not stated" for d in doers if d.expires is None]
    if issued is None:
        missing.append("the issue date is not stated")
    if missing or issued is None:
        return unknown(*missing)
    ended = [d.name for d in doers if d.expires is not None and d.expires < issued]
    words = f"ended before {issued.isoformat()}: {', '.join(ended)}" if ended else f"on {issued.isoformat()}"
    return known(not ended, words, *(_input(d) for d in doers))


def _input(doer: Doer) -> Input:
    trade = ", ".join(doer.trades)
    ends = f", licence ends {doer.expires.isoformat()}" if doer.expires else ""
    return Input(doer.name, f"{trade} {doer.licence}{ends}".strip(), DECLARED, doer.span)
