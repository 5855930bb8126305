"""Several packs at once, numbers edited in a pack's text, and who may do which step."""

from __future__ import annotations

from pathlib import Path

import pytest

from plangen.build.job import run_job
from plangen.build.pipeline import Checked
from plangen.checking.finding import Status
from plangen.cli.main import main
from plangen.packet.application import application
from plangen.packet.contents import Contents
from plangen.sheets.marks import SheetSet
from plangen.text.source import SourceSet
from tests.facts.edits import changed
from tests.rules.rules_run import ROOT, example_text


def checked(folder: Path, text: str, rules: Path | None = None) -> Checked:
    """Return a design's text taken through all stages."""
    path = folder / "design.plan"
    path.write_text(text, encoding="utf-8")
    run = run_job(path, [rules] if rules else [], lambda words: None)
    assert run.checked is not None, run.problems
    return run.checked


def edited_pack(folder: Path, name: str, old: str, new: str) -> Path:
    """Return a folder of packs that holds a shipped one with one edit."""
    text = (ROOT / "rules" / name / "pack.rules").read_text(encoding="utf-8")
    assert text.count(old) == 1
    own = folder / "rules" / name
    own.mkdir(parents=True)
    (own / "pack.rules").write_text(text.replace(old, new), encoding="utf-8")
    return folder / "rules"


def test_the_stricter_of_two_packs_governs_and_the_other_is_listed(tmp_path: Path) -> None:
    # Quillmoor 3.4 and 30 TAC 344.50 measure different heights; both packs bound the height over outlets at
    # 12 in. The ordinance's copy of that limit is raised here to 15 in, so that it governs.
    own = edited_pack(
        tmp_path, "quillmoor", "limit main_cover 12 in",
        'limit vacuum_breaker_above_outlets 15 in "vacuum breaker above the highest outlet", replaces,\n'
        '  because "a test", authority "a test", source "a test", section "1", edition "2026", read\n'
        "limit main_cover 12 in",
    )  # fmt: skip
    text = changed(example_text("residential"), ("jurisdiction quillmoor", "jurisdiction texas, quillmoor"))
    found = [f for f in checked(tmp_path, text, own).findings if f.rule == "assembly-above-outlets"]
    assert [(f.pack, f.subject) for f in found] == [("quillmoor", "BF1")]
    assert found[0].at_least is not None and found[0].at_least.words == "15 in"
    assert any(o.pack == "texas" and "12 in" in o.words for o in found[0].others)


def test_both_packs_speak_where_they_do_not_compare(tmp_path: Path) -> None:
    text = changed(
        example_text("residential"), ("jurisdiction quillmoor", "jurisdiction illinois, quillmoor")
    )
    found = {f.pack: f.status for f in checked(tmp_path, text).findings if f.rule == "assembly-accepted"}
    assert found == {"illinois": Status.FALLS_SHORT, "quillmoor": Status.MEETS}


def test_one_number_edited_in_a_pack_reaches_finding_sheet_and_packet(tmp_path: Path, packet: Path) -> None:
    # 28 in over grade: over the ordinance's 24 in, under the edited 30 in (section 3.4 of an invented city).
    own = edited_pack(
        tmp_path,
        "quillmoor",
        "limit vacuum_breaker_above_snow 24 in",
        "limit vacuum_breaker_above_snow 30 in",
    )
    design = ROOT / "examples" / "residential" / "design.plan"
    plain, other = packet, tmp_path / "other"
    assert main(["build", str(design), "--out", str(other), "--rules", str(own)]) == 1
    pages = [(folder / "index.html").read_text(encoding="utf-8") for folder in (plain, other)]
    assert "at least 30 in is required" not in pages[0]
    assert "at least 30 in is required" in pages[1]
    summaries = [(folder / "sheets" / "LI801.svg").read_text(encoding="utf-8") for folder in (plain, other)]
    assert "assembly-above-snow" not in summaries[0] or summaries[0] != summaries[1]
    assert "30 in" in summaries[1]


CREW = (
    'jurisdiction texas\n  contractor "Ilsa Brandec", trade plumber, licence "PL-42", expires {ends},'
    " does tap and isolation and assembly"
)


@pytest.mark.parametrize(
    ("ends", "status"), [("2027-01-31", Status.MEETS), ("2026-01-31", Status.FALLS_SHORT)]
)
def test_a_licence_is_asked_for_by_step(tmp_path: Path, ends: str, status: Status) -> None:
    text = changed(example_text("residential"), ("jurisdiction quillmoor", CREW.format(ends=ends)))
    found = checked(tmp_path, text)
    findings = found.findings
    assert {f.status for f in findings if f.rule == "connection-licence"} == {status}
    # Nobody is named for the system itself: that is not known, and says which step.
    open_ones = [f for f in findings if f.rule == "irrigation-licence" and f.subject == "irrigation"]
    assert open_ones[0].status is Status.NOT_KNOWN
    assert "who does the step irrigation is not stated" in open_ones[0].missing
    _printed_by_step(found, ends, status)


def _printed_by_step(found: Checked, ends: str, status: Status) -> None:
    """Sheet and page say by step who does it, with which licence; what is not stated stands open."""
    sheet = next(s for s in found.sheets.sheets if any(d.kind == "work-steps" for d in s.inventory))
    told = repr(sheet.marks)
    for words in ("Tap on the service", "Ilsa Brandec", "plumber", "PL-42", ends, "NOT STATED"):
        assert words in told, words
    empty = SheetSet(())
    contents = Contents(
        found.design,
        found.hydraulics,
        found.layout,
        empty,
        (),
        found.findings,
        (),
        SourceSet(()),
        "",
        (),
        (),
        (),
        "",
    )
    steps = {f.label: f for f in dict(application(contents))["Who does which step"]}
    assert "licence PL-42" in steps["Tap on the service"].value and ends in steps["Tap on the service"].value
    assert steps["Tap on the service"].source == f"connection-licence: {status.words}"
    assert not steps["Piping, valves and heads"].stated
    assert "irrigation-licence: not known" in steps["Piping, valves and heads"].source


def test_a_misspelt_step_is_told(tmp_path: Path) -> None:
    crew = CREW.format(ends="2027-01-31").replace("does tap", "does tapp")
    path = tmp_path / "design.plan"
    path.write_text(changed(example_text("residential"), ("jurisdiction quillmoor", crew)), encoding="utf-8")
    run = run_job(path, [], lambda words: None)
    assert [(p.code, "`tap`" in p.help) for p in run.problems] == [("PG2012", True)]
