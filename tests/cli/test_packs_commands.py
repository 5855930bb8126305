"""`plangen packs test` and `compare` on small packs of a user's own, and the reading of case texts."""

from __future__ import annotations

from pathlib import Path

import pytest

from plangen.build.case_edits import case_text
from plangen.build.pack_cases import Case, Edit, read_cases
from plangen.cli.main import main

PACK = """pack village {
  title "Village rules"
  authority "Village of Nowhere"
  edition "1"
  effective 2026-01-01
  contact "nobody"
  facts 1
  invented place
}

limit least_cover 10 in "cover over a main", source "Village code", section "1", edition "1", read

rule main-cover "Cover over mains" {
  for each pipe where buried and role is mainline
  require cover at least limit least_cover
  severity required
  why "spades"
  fix "dig"
  source "Village code", section "1", edition "1", read
}
"""
CASES = """base residential
case "as designed" {
  expect main-cover meets
}
case "too shallow" {
  - route N1 -> V4, cover ...
  + route N1 -> V4, cover 9 in
  expect main-cover for P7 falls short
}
case "not said" {
  - route N1 -> V4, cover ...
  + route N1 -> V4
  expect main-cover for P7 not known
}
"""


def packs(
    capfd: pytest.CaptureFixture[str], tmp_path: Path, cases: str | None, *arguments: str
) -> tuple[int, str]:
    """Return status and output of `packs` with the village's pack at hand."""
    folder = tmp_path / "rules" / "village"
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "pack.rules").write_text(PACK, encoding="utf-8")
    if cases is not None:
        (folder / "pack.cases").write_text(cases, encoding="utf-8")
    status = main(["packs", *arguments, "--rules", str(tmp_path / "rules")])
    return status, capfd.readouterr().out


def test_a_pack_whose_cases_hold(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    status, out = packs(capfd, tmp_path, CASES, "test", "village")
    assert (status, out.count("\n")) == (0, 1)
    assert "1 own rules, 3 cases, 3 of 3 expectations hold; every rule has its cases" in out


def test_a_case_that_does_not_hold_names_its_line(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    wrong = CASES.replace("expect main-cover meets", "expect main-cover falls short")
    status, out = packs(capfd, tmp_path, wrong, "test", "village")
    assert status == 1
    assert "rules/village/pack.cases:3: " in out and "no case where main-cover meets" in out


def test_rules_without_cases_are_told(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    assert packs(capfd, tmp_path, None, "test", "village")[0] == 1
    some = CASES.split('case "not said"')[0]
    status, out = packs(capfd, tmp_path, some, "test", "village")
    assert status == 1 and "no case where main-cover not known" in out
    excused = some + 'no case main-cover not known because "covers are always said here"\n'
    assert packs(capfd, tmp_path, excused, "test", "village")[0] == 0
    idle = CASES + 'no case main-cover not known because "covers are always said here"\n'
    assert packs(capfd, tmp_path, idle, "test", "village")[0] == 1


def test_two_packs_rule_by_rule(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    status, out = packs(capfd, tmp_path, None, "compare", "village", "illinois")
    assert status == 0
    assert "Rules of village alone (1)" in out and "connection-licence" in out
    assert "* least_cover: village 10 in; illinois none" in out
    assert main(["packs", "compare", "illinois"]) == 2
    assert "two packs" in capfd.readouterr().err


def test_lines_that_mean_nothing_are_told_and_hide_no_other() -> None:
    text = 'bases x\ncase "a" {\n  exspect r meets\n  expect r meets\n}\ncase "b" {\n}\ncase "c" {\n'
    found = read_cases(text)
    assert [f.line for f in found.faults] == [1, 3, 6, 8]
    assert [c.title for c in found.cases] == ["a", "b"]


def test_words_that_do_not_stand_just_once_are_told() -> None:
    case = Case("x", 1, (Edit("a b", "c", 2), Edit("d", "e", 3), Edit("f ... h", "i", 4)), "", (), ())
    text, faults = case_text("a  b\nd d\nf g h\n", case)
    assert text == "c\nd d\ni\n"
    assert [(f.line, "2 times" in f.words) for f in faults] == [(3, True)]


def test_a_pack_with_a_fault_is_told_from_one_that_is_not_there(
    capfd: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    folder = tmp_path / "rules" / "village"
    folder.mkdir(parents=True)
    (folder / "pack.rules").write_text(PACK.replace("cover at least", "covr at least"), encoding="utf-8")
    assert main(["packs", "test", "village", "--rules", str(tmp_path / "rules")]) == 2
    err = capfd.readouterr().err
    assert "`cover`" in err and "the pack `village` cannot be used before its faults are mended" in err
    assert f"rules/village/ is the folder {folder}" in err
    assert main(["packs", "test", "vilage", "--rules", str(tmp_path / "rules")]) == 2
    assert "there is no pack `vilage`" in capfd.readouterr().err


@pytest.mark.parametrize(
    ("named", "told"),
    [("rules/village", "is itself a rule pack; name the folder above it"), ("rulez", "there is no folder"),
     ("empty", "holds a folder for each pack, with a pack.rules in it")],
)  # fmt: skip
def test_a_rule_folder_without_packs_is_refused(
    capfd: pytest.CaptureFixture[str], tmp_path: Path, named: str, told: str
) -> None:
    (tmp_path / "rules" / "village").mkdir(parents=True)
    (tmp_path / "rules" / "village" / "pack.rules").write_text(PACK, encoding="utf-8")
    (tmp_path / "empty").mkdir()
    for command in (["packs", "list"], ["check", "design.plan"]):
        with pytest.raises(SystemExit) as ended:
            main([*command, "--rules", str(tmp_path / named)])
        assert ended.value.code == 2 and told in capfd.readouterr().err
