"""One design of `plangen check` from its file to what is to be printed of it; runs in any process."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

from plangen.build.job import run_job
from plangen.build.pipeline import Run
from plangen.checking.finding import Status
from plangen.cli.colour import Paint
from plangen.cli.exits import Exit
from plangen.cli.findings_text import failing, is_failing, run_text
from plangen.cli.messages import messages_text

CANNOT = "cannot be used"
FAULT = "fault in plangen"
FALLS_SHORT = "falls short"
NOT_KNOWN = "not known"
NOTHING_SHORT = "nothing short"
# Worst first, as the last lines of a table tell them.
VERDICTS = (FAULT, CANNOT, FALLS_SHORT, NOT_KNOWN, NOTHING_SHORT)


@dataclass(frozen=True, slots=True)
class Task:
    """A design and how it is to be told: `form` is an output of `check`, or `counts` for those alone."""

    design: Path
    rules: tuple[Path, ...]
    form: str
    colours: tuple[bool, bool] = (False, False)  # of standard output, of standard error


@dataclass(frozen=True, slots=True)
class Told:
    """What a design came to. `piece` is its part of the result, whose kind goes with the form."""

    design: str  # as the user wrote it
    status: Exit
    verdict: str
    counts: tuple[tuple[str, int], ...]  # (status, findings), empty where no rule was checked
    failing: tuple[str, ...]  # ids of the findings that make the status
    problems: int
    messages: str
    piece: Any = None


def check_one(task: Task) -> Told:
    """Return what one design comes to; a fault of plangen's own in it is told and goes no further."""
    shown = task.design.as_posix()
    try:
        run = run_job(task.design, task.rules, _silent)
        checked = run.checked
        findings = checked.findings if checked is not None else ()
        counts = tuple((s.value, sum(f.status is s for f in findings)) for s in Status) if checked else ()
        return Told(
            shown,
            status_of(run),
            verdict_of(run),
            counts,
            tuple(f.id for f in findings if is_failing(f)),
            len(run.problems),
            problems_text(run, task.design, Paint(task.colours[1])),
            _piece(task, run),
        )
    except Exception as fault:  # one design's bug must not take the others' results away
        from plangen.cli.main import fault_text

        return Told(shown, Exit.FAULT, FAULT, (), (), 0, f"{shown}: {fault_text(fault)}")


def lost(task: Task) -> Told:
    """Return what is said of a design whose process ended before it was checked."""
    shown = task.design.as_posix()
    words = f"plangen: {shown}: the process that checked it was ended, perhaps for want of memory\n"
    return Told(shown, Exit.FAULT, FAULT, (), (), 0, words)


def problems_text(run: Run, path: Path, paint: Paint) -> str:
    """Return a run's messages as they stand on standard error."""
    told = messages_text(run.problems, run.sources, shown_folder(path), paint) if run.problems else ""
    if run.stopped:
        told += f"plangen: {path.as_posix()} cannot be used; no rule was checked\n"
    return told


def status_of(run: Run) -> Exit:
    """Return the exit status one run deserves."""
    if run.checked is None:
        return Exit.UNUSABLE
    return Exit.FALLS_SHORT if failing(run.checked.findings) else Exit.FINE


def verdict_of(run: Run) -> str:
    """Return a run's result in two words; none of them says that a design passes."""
    if run.checked is None:
        return CANNOT
    states = {f.status for f in run.checked.findings if is_failing(f)}
    if Status.FALLS_SHORT in states:
        return FALLS_SHORT
    return NOT_KNOWN if states else NOTHING_SHORT


def shown_folder(path: Path) -> str:
    """Return the folder to put before file names in messages: as the user wrote it, with a slash."""
    parent = path.parent.as_posix()
    return "" if parent == "." else f"{parent.rstrip('/')}/"


def _piece(task: Task, run: Run) -> Any:
    prefix = shown_folder(task.design)
    if task.form == "json":
        from plangen.build.report import report_facts

        return report_facts(run)
    if task.form == "sarif":
        from plangen.cli.findings_sarif import sarif_run

        return sarif_run(prefix, run)
    if task.form == "junit":
        from plangen.cli.findings_junit import junit_suite

        return junit_suite(prefix, run)
    if task.form == "text" and run.checked is not None:
        return run_text(run, run.checked, prefix, Paint(task.colours[0]))
    return None


def _silent(words: str) -> None:
    """Say nothing: a check is over before a line could be read."""
