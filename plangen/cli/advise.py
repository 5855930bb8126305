"""`plangen advise`: what would make a design meet at the least cost, and on which day it still does.

It writes no file: the suggestion is a difference on standard output, for a person to take or leave.
"""

from __future__ import annotations

import argparse
import sys

from plangen.advice.advise import Advice, Open
from plangen.advice.costs import CostTable
from plangen.advice.least_supply import least_supply
from plangen.advice.space import Item
from plangen.build.advise import advise_on, costs_from
from plangen.build.job import run_job
from plangen.build.progress import Progress
from plangen.build.report_advice import advice_json
from plangen.build.standing import standing_of
from plangen.cli.check import say_problems
from plangen.cli.check_one import status_of
from plangen.cli.exits import Exit
from plangen.cli.findings_text import CAUTION
from plangen.packet.least_supply import LeastSupply, least_words


def advise_command(arguments: argparse.Namespace) -> Exit:
    """Advise on one design. The status is that of the design as it stands, advice or not."""
    costs = costs_from(arguments.costs)
    if isinstance(costs, str):
        sys.stderr.write(f"plangen: {costs}\n")
        return Exit.UNUSABLE
    progress = Progress(sys.stderr)
    run = run_job(arguments.design, arguments.rules, progress.step)
    checked = run.checked
    if checked is None:
        progress.done()
        say_problems(run, arguments.design)
        return Exit.UNUSABLE
    progress.step("looking for the least supply")
    least = least_supply(standing_of(checked))
    progress.step("looking for changes")
    advice = advise_on(run, checked, arguments.rules, costs, arguments.looks)
    progress.done()
    say_problems(run, arguments.design)
    units = checked.design.project.units
    if arguments.output == "json":
        sys.stdout.write(advice_json(run.name, checked.digest, advice, least, costs, units))
    else:
        sys.stdout.write(advice_text(advice, least, costs, units))
    return status_of(run)


def advice_text(advice: Advice, least: LeastSupply, costs: CostTable, units: str) -> str:
    """Return the whole result for reading."""
    lines = list(least_words(least, units))
    lines.append("")
    if advice.meets:
        lines.append("Nothing to mend: no required rule falls short or is not known.")
    elif advice.diff:
        lines += _found(advice, costs)
    else:
        lines += _not_found(advice, costs)
    lines += _open_lines("Beyond these changes; mend by hand", advice.beyond)
    lines += _open_lines("Open questions; nothing is guessed", advice.questions)
    if not advice.meets:
        lines += ["", *(f"Not offered: {note}." for note in advice.notes)]
    return "\n".join((*lines, "", CAUTION)) + "\n"


def _found(advice: Advice, costs: CostTable) -> list[str]:
    lines = ["Suggested changes; the file is left as it is:", *_item_lines(advice.items, costs)]
    lines.append(f"  together {costs.told(advice.cost)}, by {costs.file} ({costs.basis} costs)")
    if advice.proven:
        lines.append(f"No cheaper set of the changes on offer mends: proven by {advice.looks} looks.")
    elif advice.alone:
        lines.append("No cheaper set of the changes on offer mends these, the following set aside.")
    else:
        lines.append(
            f"The search was cut off after {advice.looks} looks: no set below {costs.told(advice.at_least)}"
            " mends, but a cheaper one than this may. More looks: --looks."
        )
    lines.append(
        f"Read again, solved and checked whole with these changes, these meet: {_listed(advice.mended)}."
    )
    if advice.vouch:
        lines.append(
            f"{len(advice.vouch)} findings then need a person, since they rest on typical values of a new"
            f" part; first: {advice.vouch[0]}"
        )
    if advice.left:
        names = _listed(tuple(o.name for o in advice.left))
        lines.append(f"No set was found that also mends {names}: that asks for another kind of assembly.")
    lines += _refused(advice)
    return [*lines, "", advice.diff.rstrip("\n")]


def _not_found(advice: Advice, costs: CostTable) -> list[str]:
    if not advice.looks:
        return ["No change on offer bears on what does not meet."]
    how = (
        "every set of the changes on offer was looked at or shown not to mend"
        if advice.exhausted
        else f"the search was cut off; no set below {costs.told(advice.at_least)} mends"
    )
    lines = [f"No set of changes was found that mends: {advice.looks} looks, {how}."]
    if advice.left:
        lines.append(
            f"In the closest try these still did not meet: {_listed(tuple(o.name for o in advice.left))}."
        )
        lines += ["It was:", *(_item_lines(advice.closest, costs) or ["  the design as it stands"])]
    return [*lines, *_refused(advice)]


def _item_lines(items: tuple[Item, ...], costs: CostTable) -> list[str]:
    return [f"  {i.object}: {i.words}, {costs.told(i.cost)}" for i in items]


def _refused(advice: Advice) -> list[str]:
    return [f"Turned down by the whole check: {words}." for words in advice.refused]


def _open_lines(title: str, found: tuple[Open, ...]) -> list[str]:
    return ["", f"{title}:", *(f"  {o.name}: {o.status}; {o.why}" for o in found)] if found else []


def _listed(names: tuple[str, ...]) -> str:
    more = f" and {len(names) - 8} more" if len(names) > 8 else ""
    return ", ".join(names[:8]) + more
