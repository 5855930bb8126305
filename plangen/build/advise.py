"""Advice on one design from its files: reads the cost table, runs the adviser, checks its suggestion."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from plangen.advice.advise import Advice, Recheck, advise
from plangen.advice.costs import CostTable, read_costs
from plangen.build.inputs import Input
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import Checked, Run, run_stages
from plangen.build.standing import standing_of
from plangen.checking.finding import Finding
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile

COSTS = "costs.csv"
# A cost table is a page or two; what is longer is not one.
MOST_BYTES = 1_000_000


def costs_from(path: Path | None) -> CostTable | str:
    """Return the user's cost table, or the shipped one; or what is wrong with it."""
    if path is None:
        return read_costs(shipped_text("library", COSTS), f"library/{COSTS}")
    try:
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
        text = raw.decode("utf-8-sig")
    except (OSError, ValueError) as fault:
        words = fault.strerror if isinstance(fault, OSError) and fault.strerror else "it is not UTF-8 text"
        return f"{path.as_posix()} cannot be read: {words.lower()}"
    if len(raw) > MOST_BYTES:
        return f"{path.as_posix()} is too long for a cost table"
    return read_costs(text, path.as_posix())


def advise_on(
    run: Run, checked: Checked, pack_folders: Iterable[Path], costs: CostTable, most_looks: int
) -> Advice:
    """Return the advice on a checked design; the packs are read once and used for every check."""
    packs = read_packs(pack_folders).value or ()
    sources = tuple(i.source for i in run.inputs)
    return advise(standing_of(checked), sources, costs, _recheck(packs), most_looks)


def _recheck(packs: tuple[Input, ...]) -> Recheck:
    def recheck(sources: tuple[SourceFile, ...]) -> tuple[Finding, ...] | str:
        """Take edited texts through every stage, sheets included."""
        inputs = tuple(Input(s.name, s.text.encode(), s) for s in sources)
        run = run_stages(inputs[0], packs, lambda words: None, inputs[1:])
        if run.checked is None:
            return run.problems[0].message if run.problems else "the edited text cannot be used"
        return run.checked.findings

    return recheck
