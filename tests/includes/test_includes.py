"""Includes: one design from several files, the shipped parts, and what may not be included."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from plangen.build.includes import LIBRARY, MOST_FILES, read_included
from plangen.build.inputs import Input, read_input
from plangen.build.job import run_job
from plangen.build.pipeline import Run
from plangen.cli.main import main
from plangen.model.formatted import format_text
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.read import read_design
from plangen.model.same import meaning
from plangen.quantity.quantity import Basis
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile

GOOD = shipped_text("examples", "residential", "design.plan")
HEAD, _, PARTS = GOOD.partition("part spray-15q")
PARTS = "part spray-15q" + PARTS


def included(text: str, *lines: str) -> str:
    """Return a design with include lines behind its first line."""
    return text.replace("plangen 1\n", "plangen 1\n\n" + "".join(f"{line}\n" for line in lines), 1)


def job(folder: Path, **files: str) -> Run:
    """Write files (`a__b` is `a/b.plan`) and return the run of `yard.plan`."""
    for name, text in files.items():
        path = folder.joinpath(*name.split("__")).with_suffix(".plan")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode())
    return run_job(folder / "yard.plan", (), lambda _: None)


def codes(run: Run) -> list[str]:
    return [p.code for p in run.problems]


def test_a_design_in_several_files_means_the_same_as_in_one(tmp_path: Path) -> None:
    start = HEAD.index("zone Z4")
    end = HEAD.index("control {")
    run = job(
        tmp_path,
        yard=included(HEAD[:start] + HEAD[end:], 'include "parts/all.plan"', 'include "zones/border.plan"'),
        parts__all='plangen 1\ninclude "../parts/more.plan"\n' + PARTS[: PARTS.index("part pvb-1")],
        parts__more=PARTS[PARTS.index("part pvb-1") :],
        zones__border=HEAD[start:end],
    )
    assert run.problems == () and run.checked is not None
    whole = read_design(SourceFile.of("yard.plan", GOOD)).value
    assert whole is not None and meaning(run.checked.design) == meaning(whole)
    names = ["yard.plan", "parts/all.plan", "parts/more.plan", "zones/border.plan"]
    assert [i.name for i in run.inputs] == names
    assert {f.at.file for f in run.checked.findings} >= {"yard.plan", "zones/border.plan"}


def test_messages_point_into_the_file_they_are_about(tmp_path: Path) -> None:
    run = job(tmp_path, yard=included(HEAD, 'include "p.plan"'), p=PARTS.replace("30 psi", "30 psy", 1))
    assert [(p.code, p.span.file) for p in run.problems] == [("PG2004", "p.plan")]
    place = run.sources.place(run.problems[0].span)
    assert "30 psi" in PARTS.split("\n")[place.line - 1]


def test_the_digest_and_the_packet_hold_every_file(tmp_path: Path) -> None:
    files = {"yard": included(HEAD, 'include "p.plan"'), "p": PARTS}
    one = job(tmp_path, **files)
    other = job(tmp_path, yard=files["yard"], p=PARTS.replace("SP-15", "SP-16"))
    assert one.checked is not None and other.checked is not None
    assert one.checked.digest != other.checked.digest


@pytest.mark.parametrize(
    "line",
    ["../yard.plan", "/etc/passwd", "a/../../x.plan", "C:/x.plan", "a\\b.plan", "~/x.plan", ".."],
)
def test_nothing_outside_of_the_folder_is_read(tmp_path: Path, line: str) -> None:
    folder = tmp_path / "job"
    (tmp_path / "x.plan").write_text(PARTS)
    assert codes(job(folder, yard=included(GOOD, f'include "{line}"'))) == ["PG0012"]


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    (tmp_path / "x.plan").write_text(PARTS)
    try:
        (folder / "p.plan").symlink_to(tmp_path / "x.plan")
    except OSError:
        pytest.skip("this system makes no symbolic links")
    assert codes(job(folder, yard=included(GOOD, 'include "p.plan"'))) == ["PG0012"]


def test_files_in_a_ring_are_told_once_with_the_way_round(tmp_path: Path) -> None:
    yard = included(GOOD, 'include "a.plan"')
    run = job(tmp_path, yard=yard, a='include "b.plan"\n', b='include "a.plan"\n')
    assert codes(run) == ["PG0013"]
    assert [label.span.file for label in run.problems[0].labels] == ["yard.plan", "a.plan"]
    run = job(tmp_path, yard=included(GOOD, 'include "yard.plan"'))
    assert codes(run) == ["PG0013"]


def test_a_file_that_two_include_is_read_once(tmp_path: Path) -> None:
    run = job(
        tmp_path,
        yard=included(HEAD, 'include "a.plan"', 'include "b.plan"', 'include "p.plan"'),
        a='include "p.plan"\n',
        b='include "p.plan"\n',
        p=PARTS,
    )
    assert run.problems == ()


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ('include "nowhere.plan"', "PG0002"),
        ('include "parts"', "PG0003"),
        ('include "empty.plan"', "PG0004"),
        ("include library heads", "PG0014"),
        ("include parts.plan", "PG1013"),
        ("include", "PG1013"),
        ('include "a.plan" "b.plan"', "PG1013"),
        ('include "a.plan', "PG1013"),
    ],
)
def test_one_bad_line_gives_one_message_at_that_line(tmp_path: Path, line: str, code: str) -> None:
    """Names that the missing file would define stay silent."""
    (tmp_path / "parts").mkdir()
    (tmp_path / "empty.plan").write_text("\n")
    run = job(tmp_path, yard=included(HEAD, line))
    assert codes(run) == [code]
    assert run.sources.place(run.problems[0].span).line == HEAD[: HEAD.index("plangen 1")].count("\n") + 3


def test_an_include_inside_a_block_is_told() -> None:
    text = GOOD.replace("site {\n", 'site {\ninclude "x.plan"\n', 1)
    assert [p.code for p in read_design(SourceFile.of("d.plan", text)).problems] == ["PG1013"]


@pytest.mark.parametrize("block", ["project", "site"])
def test_settings_stand_in_the_root_only(tmp_path: Path, block: str) -> None:
    start = GOOD.index(f"{block} ")
    text = GOOD[start : GOOD.index("\n}\n", start) + 3]
    assert codes(job(tmp_path, yard=included(GOOD, 'include "s.plan"'), s=text)) == ["PG2031"]


def test_a_part_of_ones_own_takes_the_place_of_one_of_the_library(tmp_path: Path) -> None:
    mine = PARTS[PARTS.index("part valve-1 ") :]
    mine = mine[: mine.index("\n}\n") + 3]
    others = PARTS.replace(mine, "")
    for name in re.findall(r"^part (\S+) ", shipped_text("library", "parts.plan"), re.MULTILINE):
        others = others.replace(f"part {name} {{", f"part {name} replaces {{")
    yard = included(HEAD, "include library parts", 'include "mine.plan"')
    typical = job(tmp_path, yard=yard, mine=others)
    assert typical.problems == () and typical.checked is not None
    valve = next(d.part for d in typical.checked.design.devices if d.name == "V1")
    assert valve is not None and valve.provenance.basis is Basis.TYPICAL
    assert {f.status.value for f in typical.checked.findings if f.rule == "valve-flow"} == {"needs_person"}
    mine = mine.replace("part valve-1 {", "part valve-1 replaces {")
    own = job(tmp_path, yard=yard, mine=f"{others}\n{mine}")
    assert own.checked is not None
    assert {f.status.value for f in own.checked.findings if f.rule == "valve-flow"} == {"meets"}


def test_a_part_twice_is_told_unless_it_says_so(tmp_path: Path) -> None:
    text = 'part valve-1 {\n  kind valve\n  label "V"\n}\n'
    assert codes(job(tmp_path, yard=included(GOOD, 'include "v.plan"'), v=text)) == ["PG2013"]
    text = text.replace("valve-1 {", "valve-1 replaces {")
    assert codes(job(tmp_path, yard=included(GOOD, 'include "v.plan"'), v=text)) == []
    assert codes(job(tmp_path, yard=included(GOOD, 'include "v.plan"'), v=text + text)) == ["PG2013"]
    text = text.replace("valve-1", "valve-7")
    assert codes(job(tmp_path, yard=included(GOOD, 'include "v.plan"'), v=text)) == ["PG2032"]


def test_too_many_files_are_told(tmp_path: Path) -> None:
    for n in range(MOST_FILES + 2):
        (tmp_path / f"f{n}.plan").write_text(f'plangen 1\ninclude "f{n + 1}.plan"\n')
    root = read_input(tmp_path / "f0.plan", "f0.plan")
    assert isinstance(root, Input)
    read, problems = read_included(tmp_path / "f0.plan", root)
    assert len(read) == MOST_FILES
    assert [p.code for p in problems] == ["PG0012"]


def test_the_shipped_parts_are_laid_out_typical_and_read_with_their_source() -> None:
    text = shipped_text("library", "parts.plan")
    assert format_text(SourceFile.of("parts.plan", text)).value == text
    design = included(HEAD, "include library parts")
    read = read_design(SourceFile.of("d.plan", design), (SourceFile.of(f"{LIBRARY}/parts.plan", text),))
    # the design names two parts that the library calls otherwise
    assert [p.code for p in read.problems] == ["PG2017", "PG2017"]
    assert text.count("\npart ") == text.count('\n  from            typical values "') >= 50
    for kind in set(ASSEMBLY_KINDS) - {"avb", "db", "air-gap"}:
        assert f"  assembly        {kind}\n" in text


def test_the_starter_works_with_the_shipped_parts(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    text = shipped_text("site", "starter", "design.plan")
    text = text[: text.index("# To take from its data sheet")]
    path = tmp_path / "yard.plan"
    path.write_text(included(text, "include library parts"))
    assert main(["check", str(path)]) == 1
    assert "NEEDS A PERSON" in capfd.readouterr().out


def test_a_folder_called_rules_is_the_projects_own(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    good = job(tmp_path, yard=included(HEAD, 'include "rules/heads.plan"'), rules__heads=PARTS)
    assert not good.stopped
    job(tmp_path, yard=included(HEAD, 'include "rules/heads.plan"'), rules__heads=PARTS + "zonne Z9 {\n}\n")
    # A message in it names the folder the user wrote, as for any other file of the design.
    assert main(["check", str(tmp_path / "yard.plan")]) == 2
    assert f"at {tmp_path.as_posix()}/rules/heads.plan:" in capfd.readouterr().err


@pytest.mark.parametrize("name", ["rules/texas/pack.rules", f"{LIBRARY}/parts.plan"])
def test_names_kept_for_packs_and_libraries_are_refused(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.parent.mkdir(parents=True)
    path.write_text(PARTS, encoding="utf-8")
    run = job(tmp_path, yard=included(HEAD, f'include "{name}"'))
    assert codes(run)[0] == "PG0012" and "keeps for" in run.problems[0].message and run.stopped
