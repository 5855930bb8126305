"""What people write who know the trade and have only read the tutorial, each with the help that it gets.

The lines are those of a design written once in its writer's own way: own words, own order, metric units.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from plangen.build.job import run_job
from plangen.checking.finding import Status
from plangen.cli.colour import Paint
from plangen.cli.findings_text import run_text
from plangen.model.read import read_design
from plangen.text.source import SourceFile
from tests.diagnostics.code_page_texts import BASE, merged


@pytest.mark.parametrize(
    ("block", "line", "code", "told"),
    [
        ("site", "grade (0, 0) 30 m measured 20 April 2026", "PG2007", "year-month-day"),
        ("site", "building shed outline (0, 0) -> (9, 0) -> (9, 9)", "PG2027", "write `Shed`"),
        ("site", 'path P9 "Path", outline (0, 0) -> (9, 0) -> (9, 9)', "PG2002", "`paving`"),
        ("project", "issued 4/5/2026", "PG1001", "year-month-day"),
        ("supply", "service S1 copper-k 1 in, route W1 to M1", "PG2024", "`->`"),
        ("supply", "house HS at (10, 42), demand 15 l/min", "PG1001", "write `15 L/min`"),
        ("zone Z1", "kind sprinklers", "PG2012", "`spray` or `rotor`"),
        ("zone Z1", "head H1 spray-a, at (5, 35), L1, arc east to south", "PG2003", "write `on L1`"),
        ("zone Z1", "head H1 spray-a, at (5, 35), on L1, arc E to S", "PG2012", "`east`"),
        ("zone Z1", "heads H3, H4 spray-a, on L1, every 4 m", "PG2003", "`from`"),
        ("zone Z1", "heads H3, H4 spray-a, along L1, from 1 m every 4 m", "PG2003", "`on`"),
        ("zone Z1", "head H1 spray-15q, at (5, 35), on L1", "PG2017", "include library parts"),
    ],
)
def test_a_line_in_ones_own_way_gets_one_message_that_helps(
    block: str, line: str, code: str, told: str
) -> None:
    problems = read_design(SourceFile.of("d.plan", merged(BASE, f"{block} {{\n{line}"))).problems
    assert [p.code for p in problems] == [code]
    assert told in f"{problems[0].expected} {problems[0].help}"


def test_a_part_that_the_library_has_not_is_not_promised() -> None:
    text = merged(BASE, "zone Z1 {\nhead H1 nothing-like-it, at (5, 35), on L1")
    (problem,) = read_design(SourceFile.of("d.plan", text)).problems
    assert (
        problem.help.startswith("define it in a block `part nothing-like-it {")
        and "library" not in problem.help
    )


def test_a_library_in_quotes_is_told_without(tmp_path: Path) -> None:
    (tmp_path / "d.plan").write_text(BASE.replace("\n\n", '\n\ninclude "library parts"\n\n', 1))
    (problem,) = run_job(tmp_path / "d.plan", (), lambda _: None).problems
    assert (problem.code, problem.help[-23:]) == ("PG0002", "`include library parts`")


def test_rules_that_a_first_file_has_nothing_for_are_told_together(tmp_path: Path) -> None:
    """The tutorial's first file: what must be acted on stays in sight."""
    (tmp_path / "d.plan").write_text(
        'plangen 1\nproject "Yard" {\n  jurisdiction quillmoor\n}\nsite {\n  coordinates ft\n'
        "  lot Lot outline (0, 0) -> (60, 0) -> (60, 100)\n}\n"
        "supply {\n  source W1 at (8, 7), static 62 psi measured 2026-04-20\n}\n"
    )
    run = run_job(tmp_path / "d.plan", (), lambda _: None)
    assert run.checked is not None
    rules = {f.rule for f in run.checked.findings if f.status is Status.NOT_APPLICABLE}
    quiet = run_text(run, run.checked, "", Paint(False)).split("[-] DOES NOT APPLY")[1].split("\n\n")[0]
    assert len(rules) > 60 and len(quiet.splitlines()) < len(rules) * 0.7
    assert all(rule in quiet for rule in rules)
