"""Packs in their canonical layout: stable, lossless, and never of another meaning.

No outside source: the properties are the language's own (one layout, no comment lost, no meaning changed).
"""

from __future__ import annotations

import re
from itertools import cycle
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.checking.format_pack import format_pack
from plangen.cli.main import main
from plangen.text.source import SourceFile
from tests.rules import pack_facts as p

UNTIDY = """# why this pack
pack   small {
 title "Small",
}
"""
TEXTS = {name: source.text for name, source in p.texts().items()}
# A short text with every shape of line: limits over two lines, parts of a rule on lines of their own.
SHORT = """# A pack of one rule.
pack small {
  title      "Small  pack"
  authority  "Nobody"
  edition    "1"
  effective  2026-01-01
  contact    "none"
  facts      1
  invented place
}

limit least_cover 12 in "least cover, # not a comment", source "Test ordinance", section "2",
  edition "2026", read
test every 12 months "always", source "Test ordinance", section "3", edition "2026", read

# ---- Rules ----

rule cover "Cover" {
  # what it is about
  for each  pipe where buried and
            role is mainline
  require   larger of (cover,
            limit least_cover) at least limit least_cover
  severity  required
  why       "spades"  # and ploughs
  fix       "dig"
  source    "Test ordinance", section "1", edition "2026", read
  cannot be waived
}
"""


def laid_out(text: str) -> str:
    outcome = format_pack(SourceFile.of("pack.rules", text))
    assert outcome.value is not None, outcome.problems
    return outcome.value


@pytest.mark.parametrize("name", TEXTS)
def test_the_shipped_packs_are_laid_out(name: str) -> None:
    assert laid_out(TEXTS[name]) == TEXTS[name]


def untidy(text: str, spaces: list[int]) -> str:
    """Return a text with other runs of blanks outside of quotes and comments, and other indents in blocks."""
    more = cycle(spaces)
    out = []
    for line in text.split("\n"):
        code, mark, comment = line.partition("  # ")
        loose = [
            x if x[:1] == '"' else re.sub(r"(?<=\S) +", lambda m: " " * (1 + next(more)), x)
            for x in re.split(r'("[^"]*")', code.strip())
        ]
        indent = " " * (1 + next(more)) if line[:1] == " " else ""
        out.append(line if line[:1] == "#" else indent + "".join(loose) + mark + comment)
    return "\n".join(out)


@settings(deadline=None)
@given(st.lists(st.integers(0, 7), min_size=1, max_size=40))
def test_other_blanks_come_out_the_same_and_once_is_enough(spaces: list[int]) -> None:
    assert laid_out(SHORT) == SHORT
    assert laid_out(untidy(SHORT, spaces)) == SHORT


def test_comments_line_ends_and_blank_lines() -> None:
    assert laid_out("\n\n" + SHORT.replace("\n\n", "\n\n\n\n").replace("\n", "\r\n")) == SHORT
    assert laid_out(SHORT.replace("  # what it is about", "# what it is about")) == SHORT
    for comment in re.findall("#.*", SHORT):
        assert comment in laid_out(SHORT)


def test_a_pack_with_a_fault_is_left_alone(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    outcome = format_pack(SourceFile.of("pack.rules", SHORT.replace("at least", "at leest")))
    assert outcome.value is None and outcome.problems
    path = tmp_path / "pack.rules"
    path.write_text(UNTIDY, encoding="utf-8")
    assert main(["format", str(path)]) == 2
    assert path.read_text(encoding="utf-8") == UNTIDY and "left as it is" in capfd.readouterr().err


def test_the_command_lays_a_pack_out(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "pack.rules"
    path.write_text(SHORT.replace("  severity  required", " severity required"), encoding="utf-8")
    assert main(["format", "--check", str(path)]) == 1
    assert main(["format", str(path)]) == 0
    assert path.read_text(encoding="utf-8") == SHORT
    assert main(["format", "--check", str(path)]) == 0
