"""The starter design reads without a message, and nothing ails it but what its list names."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from plangen.build.inputs import Input
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import run_stages
from plangen.build.starter import starter_text, tasks
from plangen.checking.finding import Finding, Status
from plangen.cli.main import main
from plangen.model.formatted import format_text
from plangen.model.read import read_design
from plangen.text.source import SourceFile

TEXT = starter_text()
_HIDDEN = re.compile(r"(?m)^  # ([a-z]+ .*)$")


def findings(text: str) -> tuple[Finding, ...]:
    """Return all findings of a design text."""
    packs = read_packs().value
    assert packs is not None
    source = SourceFile.of("design.plan", text)
    run = run_stages(Input("design.plan", text.encode(), source), packs, lambda _: None)
    assert run.checked is not None, run.problems
    assert run.problems == ()
    return run.checked.findings


def completed(text: str) -> str:
    """Return the starter as its owner leaves it: everything measured, answered, filled in."""
    text = _HIDDEN.sub(r"  \1", text)
    text = text.replace(" assumed", " measured 2029-12-01")
    return text.replace("from            typical values", 'from            data sheet "X"')


def test_it_reads_without_a_message_and_is_laid_out() -> None:
    assert read_design(SourceFile.of("design.plan", TEXT)).problems == ()
    assert format_text(SourceFile.of("design.plan", TEXT)).value == TEXT


def test_once_everything_listed_is_done_nothing_is_left_to_mend() -> None:
    bad = (Status.FALLS_SHORT, Status.NOT_KNOWN)
    left = [f.id for f in findings(completed(TEXT)) if f.severity == "required" and f.status in bad]
    assert left == []


def test_before_that_nothing_that_rests_on_a_guess_passes() -> None:
    before = {(f.rule, f.subject): f for f in findings(TEXT)}
    after = {(f.rule, f.subject): f for f in findings(completed(TEXT))}
    for name in (("assembly-above-outlets", "BF1"), ("plastic-velocity", "P2")):
        assert before[name].status is Status.NEEDS_PERSON
        assert after[name].status is Status.MEETS
    short = {f.rule for f in before.values() if f.severity == "required" and f.status is Status.FALLS_SHORT}
    assert short == {"hazards-answered", "plan-revisions", "project-named", "licence-stated"}


def test_every_guess_and_every_hidden_line_stands_below_a_task() -> None:
    lines = TEXT.split("\n")
    told = {task.line for task in tasks(TEXT)}
    for number, line in enumerate(lines, 1):
        if ("assumed" in line and not line.startswith("#")) or _HIDDEN.match(line):
            above = number - 1
            while lines[above - 1].strip() and above not in told:
                above -= 1
            assert above in told, line


def test_new_writes_it_and_lists_the_tasks(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "yard.plan"
    assert main(["new", str(path)]) == 0
    assert path.read_bytes() == TEXT.encode()
    shown = capfd.readouterr().out
    assert shown.count("\n") >= len(tasks(TEXT)) >= 10
    for task in tasks(TEXT):
        assert f"{task.line:>5}  " in shown
    assert main(["check", str(path)]) == 1


def test_new_never_touches_a_file_that_is_there(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "yard.plan"
    path.write_text("mine")
    assert main(["new", str(path)]) == 4
    assert path.read_text() == "mine"
    assert main(["new", str(tmp_path / "nowhere" / "yard.plan")]) == 4
    assert "was not written" in capfd.readouterr().err
