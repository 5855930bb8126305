"""Each code has a page; its wrong text gives that code and nothing else, its right text gives nothing."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

import plangen
from plangen.diagnostics.catalogue import catalogue, find, name_of
from plangen.diagnostics.render_text import render_all
from plangen.model.read import read_design
from plangen.text.source import SourceFile, SourceSet
from tests.diagnostics.code_page_texts import examples, page_files, whole_text
from tests.diagnostics.run_page_example import codes_of

PAGES = page_files()
DESIGN_PAGES = [
    c
    for c, path in PAGES.items()
    if all(k in ("plan", "plan-file") for k, _ in examples(path).values()) and examples(path)
]
GOLDEN = Path(__file__).with_name("golden")


def test_every_code_has_a_page_and_every_page_a_code() -> None:
    assert sorted(PAGES) == sorted(catalogue())


def test_every_code_that_is_raised_is_in_the_catalogue() -> None:
    package = Path(plangen.__file__).parent
    raised = set()
    for path in package.rglob("*.py"):
        raised |= set(re.findall(r'"(PG\d{4})"', path.read_text(encoding="utf-8")))
    assert set(catalogue()) == raised


def test_names_of_codes_are_unique_and_found_either_way() -> None:
    names = [e.name for e in catalogue().values()]
    assert len(set(names)) == len(names)
    assert find("pg2004") == find("unknown-unit")
    assert name_of("PG9999") == ""


@pytest.mark.parametrize("code", sorted(PAGES))
def test_headings_stand_in_order(code: str) -> None:
    page, entry = PAGES[code].read_text(encoding="utf-8"), catalogue()[code]
    assert page.startswith(f"# {code}: {entry.name}\n\n{entry.summary}\n\n## ")
    headings = re.findall(r"^## (.*)$", page, re.MULTILINE)
    assert headings[:3] == ["What it means", "Wrong", "Right"]
    assert headings[3:] in ([], ["Why plangen cares"])


@pytest.mark.parametrize("code", sorted(PAGES))
def test_wrong_text_gives_the_code_and_right_text_gives_nothing(
    code: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = examples(PAGES[code])
    assert set(found) == {"Wrong", "Right"}
    for which, told in (("Wrong", {code}), ("Right", set())):
        folder = tmp_path / which
        folder.mkdir()
        assert codes_of(*found[which], folder, capsys) == told, which


@pytest.mark.parametrize("code", DESIGN_PAGES)
def test_messages_read_as_agreed(code: str, hold_to_golden: Callable[[Path, str], None]) -> None:
    """The golden file holds the changed lines and the message, so that review sees a change of wording."""
    kind, body = examples(PAGES[code])["Wrong"]
    source = SourceFile.of("design.plan", whole_text(kind, body))
    shown = render_all(read_design(source).problems, SourceSet((source,)))
    hold_to_golden(GOLDEN / f"{code}.txt", f"{body}\n\n{'-' * 60}\n{shown}")
