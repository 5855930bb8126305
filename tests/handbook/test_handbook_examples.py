"""What the handbook shows as text of a design or a pack is checked as a user would check it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from plangen.build.inputs import Input
from plangen.build.job import run_job
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import Run, run_stages
from plangen.checking.finding import Status
from plangen.checking.load import load_packs
from plangen.diagnostics.diagnostic import Problems
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.model.bind_blocks import BlockBinder
from plangen.model.formatted import format_text
from plangen.model.merge import merged_trees
from plangen.model.read import read_design
from plangen.shipped.folders import shipped_text
from plangen.syntax.read_tree import read_tree
from plangen.text.source import SourceFile, SourceSet

_FENCE = re.compile(r"^```(plan|rules)(?: ([^\n]*))?\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def fences(page: str) -> list[tuple[str, str, str]]:
    """Return the fenced texts of a page: kind, what it is marked as, and the text."""
    return _FENCE.findall(shipped_text("site", "handbook", page))


def marked(mark: str) -> list[str]:
    """Return the tutorial's texts with that mark."""
    return [text for kind, what, text in fences("tutorial.md") if kind == "plan" and what == mark]


def run(text: str) -> Run:
    """Return the run of a design text."""
    packs = read_packs().value
    assert packs is not None
    source = SourceFile.of("yard.plan", text)
    return run_stages(Input("yard.plan", text.encode(), source), packs, lambda _: None)


WHOLE = marked("complete")[-1]


def test_every_complete_text_of_the_tutorial_is_checked_without_a_message_and_is_laid_out() -> None:
    assert len(marked("complete")) >= 2
    for text in marked("complete"):
        found = run(text)
        assert found.checked is not None and found.problems == ()
        assert format_text(SourceFile.of("yard.plan", text)).value == text


def test_the_steps_of_the_tutorial_make_the_whole_file() -> None:
    assert "\n".join(marked("step")) == WHOLE


def test_the_library_stands_in_for_the_parts_of_the_tutorial_and_nothing_on_it_is_accepted(
    tmp_path: Path,
) -> None:
    text = re.sub(r"^part \S+ \{\n.*?^\}\n", "", WHOLE, flags=re.MULTILINE | re.DOTALL)
    text = text.replace("plangen 1\n", "plangen 1\n\ninclude library parts\n", 1)
    (tmp_path / "yard.plan").write_text(text, encoding="utf-8")
    (tmp_path / "mine.plan").write_text(
        re.sub(r"^(part \S+) \{", r"\1 replaces {", WHOLE, flags=re.MULTILINE).replace(
            "plangen 1\n", "plangen 1\n\ninclude library parts\n", 1
        ),
        encoding="utf-8",
    )
    typical, mine = (run_job(tmp_path / f"{name}.plan", (), lambda _: None) for name in ("yard", "mine"))
    assert typical.problems == mine.problems == ()
    assert typical.checked is not None and mine.checked is not None
    waiting = {f.rule for f in typical.checked.findings if f.status is Status.NEEDS_PERSON}
    settled = {f.rule for f in mine.checked.findings if f.status is Status.NEEDS_PERSON}
    assert {"head-least-pressure", "meter-capacity", "valve-flow"} <= waiting - settled


def test_nothing_required_falls_short_at_the_end_of_the_tutorial() -> None:
    checked = run(WHOLE).checked
    assert checked is not None
    bad = (Status.FALLS_SHORT, Status.NOT_KNOWN)
    assert [f.id for f in checked.findings if f.severity == "required" and f.status in bad] == []


def test_the_first_file_of_the_tutorial_leaves_things_unknown_as_it_says() -> None:
    checked = run(marked("complete")[0]).checked
    assert checked is not None
    assert {Status.NOT_KNOWN, Status.FALLS_SHORT} & {f.status for f in checked.findings}


def test_the_change_that_the_tutorial_suggests_falls_short_as_it_says() -> None:
    page = " ".join(shipped_text("site", "handbook", "tutorial.md").split())
    old, new = "critical level 28 in above grade", "critical level 6 in above grade"
    assert f"change `{old}` to `{new}`" in page
    checked = run(WHOLE.replace(old, new)).checked
    assert checked is not None
    short = {f.rule for f in checked.findings if f.status is Status.FALLS_SHORT}
    assert "assembly-above-outlets" in short


def test_the_wrong_text_of_the_tutorial_gives_its_message_and_no_other() -> None:
    wrong = [(what.split()[1], text) for _, what, text in fences("tutorial.md") if what.startswith("wrong ")]
    assert wrong
    for code, text in wrong:
        assert [p.code for p in read_design(SourceFile.of("yard.plan", text)).problems] == [code]


@pytest.mark.parametrize("page", ["language.md", "tutorial.md"])
def test_every_text_of_a_design_parses_and_is_laid_out(page: str) -> None:
    for kind, what, text in fences(page):
        if kind == "plan" and not what.startswith("wrong "):
            source = SourceFile.of("yard.plan", text)
            assert read_tree(source).problems == ()
            made = format_text(source).value
            assert made is not None
            if page == "tutorial.md":
                assert made == text


def test_every_statement_of_the_language_page_is_of_the_language() -> None:
    """The fragments lack blocks and whole zones; nothing else may be wrong with them."""
    for kind, _, text in fences("language.md"):
        if kind == "plan":
            source = SourceFile.of("d.plan", text)
            problems = Problems()
            tree = read_tree(source).value
            assert tree is not None
            merged = merged_trees(tree, (), False, problems)
            BlockBinder(SourceSet((source,)), problems).blocks(merged.tree)
            assert {p.code for p in problems.items} <= {"PG2010", "PG2028"}, problems.items


def test_inline_forms_of_the_language_page_are_forms_of_the_language() -> None:
    """Each place and number in the tables of the page is read as a value."""
    page = shipped_text("site", "handbook", "language.md")
    places = re.findall(r"^\| `([^`]+)` \| .*$", page[page.index("## Places") :], re.MULTILINE)
    assert len(places) >= 7
    for place in places:
        text = f"plangen 1\nsite {{\n  coordinates ft\n  tree T9 at {place}\n}}\n"
        codes = {p.code for p in read_design(SourceFile.of("d.plan", text)).problems}
        assert not codes & {"PG2007", "PG2008"}, place


def test_the_rule_language_page_shows_a_pack_that_loads() -> None:
    text = "\n".join(text for kind, _, text in fences("rules.md") if kind == "rules")
    packs = read_packs().value
    assert packs is not None
    texts = {i.source.name.split("/")[-2]: i.source for i in packs}
    texts["fernvale"] = SourceFile.of("rules/fernvale/pack.rules", text)
    loaded = load_packs(("fernvale",), texts, VOCABULARY, VERSION)
    assert loaded.problems == (), loaded.problems
    assert loaded.value is not None and loaded.value[-1].rule("valve-in-box") is not None
