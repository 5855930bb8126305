"""What to write so that something is known: told for each wording of what is missing that the facts can give.

No outside source: the words are those of the collectors, the answers statements of the language reference.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import plangen
from plangen.facts.supplied_by import ANYHOW, supplies, supply
from plangen.facts.vocabulary import VOCABULARY, unlisted
from tests.rules.rules_run import gathered

PACKAGE = Path(plangen.__file__).parent
REFERENCE = PACKAGE.parent / "site" / "handbook" / "language-reference.md"
# A pipe or sleeve cannot be read without a size; the other stands for the plant and the exposure of an area.
NEVER_TOLD = {"", "the X1 of X1 is not stated"}


def words_for_missing() -> Iterator[str]:
    """Yield every wording of a collector of facts for what is missing, with X1 for what is filled in."""
    for path in sorted((PACKAGE / "facts").glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                continue
            given = {"unknown": node.args, "stated": node.args[2:]}.get(node.func.id, [])
            yield from (words for arg in given if (words := _filled(arg)) is not None)


def _filled(node: ast.expr) -> str | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(p.value if isinstance(p, ast.Constant) else "X1" for p in node.values)  # type: ignore[misc]
    return None


def test_every_wording_of_what_is_missing_is_answered() -> None:
    found = set(words_for_missing()) | {unlisted(r.name) for r in VOCABULARY if r.name in INCOMPLETE}
    assert len(found) > 50
    assert sorted(w for w in found - NEVER_TOLD if supply(w) == ANYHOW) == []


# Lists that are not whole without a word of the author (plangen/facts/collect.py).
INCOMPLETE = ("separation", "setback", "controller", "sensor", "supply", "sheet")


def test_the_answers_name_statements_of_the_language() -> None:
    reference = REFERENCE.read_text(encoding="utf-8")
    words = {
        w
        for m in (*words_for_missing(), *map(unlisted, INCOMPLETE))
        for w in re.findall(r"`([^`]+)`", supply(m))
    }
    asked = {w.replace(" X1", "") for w in words} - {"none", "plangen build", "part", "does X1"}
    lacking = [
        w for w in sorted(asked) if not re.search(rf"(?:^### |`|\[| ){re.escape(w)}\b", reference, re.M)
    ]
    assert lacking == []


@pytest.mark.parametrize(
    ("missing", "told"),
    [
        ("the cover of P4 is not stated", "state `cover` at P4"),
        ("the depth of sewer SS1 is not stated", "state `depth` at sewer SS1 in the site block"),
        ("who does the step tap is not stated", "name a `contractor` in the project block who `does tap`"),
        ("the plant factor of Front is not stated", "state `plant factor` at Front in the site block"),
    ],
)
def test_the_object_is_named(missing: str, told: str) -> None:
    assert supply(missing) == told


BARE = """plangen 1

project "Bare" {
  jurisdiction   quillmoor
}

site {
  coordinates    ft
}

supply {
  source W1      at (8, -7)
}
"""


def test_what_is_not_stated_yet_is_not_drawn_either() -> None:
    """Requirement: nothing passes by having nothing in it."""
    (row,) = gathered(BARE, draw=True).facts.of("sheet_set")
    for name in ("heads_drawn", "pipes_sized", "valves_labelled", "controller_drawn"):
        assert row.get(name).value is None and row.get(name).missing, name


def test_several_things_are_told_once_each() -> None:
    told = supplies(
        ["the issue date is not stated", "the frost depth is not stated", "the issue date is not given"]
    )
    assert told.count("`issued`") == 1 and told.startswith("State `issued`") and "`frost depth`" in told
