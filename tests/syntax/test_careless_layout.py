"""Texts laid out by hand as badly as a reader allows come back to one layout with words and comments kept.

The text is the one that says all of the language. Each way of writing it changes blanks, line ends and
comments alone, so that what it means and how it is laid out must stay.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from plangen.cli.main import main
from plangen.model.formatted import format_text
from plangen.model.read import read_design
from plangen.syntax.comments import marks_of
from plangen.text.source import SourceFile
from tests.diagnostics.code_page_texts import BASE
from tests.model.same_design import meaning

TEXT = (Path(__file__).parents[1] / "model" / "everything.plan").read_text(encoding="utf-8")
_CODE = re.compile(r'((?:[^"#\n]|"[^"\n]*")*)(.*)')


def outside(line: str, pattern: str, new: str) -> str:
    """Return a line changed where it is neither text in quotes nor a comment."""
    code = _CODE.fullmatch(line)
    assert code is not None
    parts = code[1].split('"')
    return '"'.join(re.sub(pattern, new, p) if i % 2 == 0 else p for i, p in enumerate(parts)) + code[2]


def each(change: Callable[[str], str]) -> Callable[[str], str]:
    """Return the change of a whole text that changes each of its lines."""
    return lambda text: "\n".join(change(line) for line in text.split("\n"))


def broken(text: str) -> str:
    """Return a text that goes on in a new line after each comma and arrow, with comments and blank lines."""
    between = (" # one", "\n\n\n", "#tight", "\n      # on a line of its own", "\r", "")
    count = 0

    def line_of(line: str) -> str:
        nonlocal count
        if not line.startswith(" ") or "#" in line:
            return line
        parts = line.split('"')
        for i in range(0, len(parts), 2):
            pieces = re.split(r"(,(?![^(]*\))|->)", parts[i])
            for n in range(1, len(pieces), 2):
                pieces[n] += between[count % len(between)] + "\n"
                count += 1
            parts[i] = "".join(pieces)
        return '"'.join(parts)

    return each(line_of)(text)


def joined(text: str) -> str:
    """Return a text in which every statement stands in one line, however long."""
    return re.sub(r"(,|->)[ \r]*\n\s*", r"\1 ", text)


CARELESS: dict[str, Callable[[str], str]] = {
    "tabs": each(lambda line: outside(line, " ", " \t ")),
    "blanks that do not break": each(lambda line: outside(line, " ", "\xa0")),
    "form feeds": each(lambda line: outside(line, " ", "\x0c")),
    "blanks at the end": each(lambda line: line + " \t \xa0"),
    "no indentation": each(lambda line: line.lstrip()),
    "line ends of another system": each(lambda line: line + "\r"),
    "no line end at the end": lambda text: text.rstrip("\n"),
    "empty lines in front": lambda text: "\r\n\n  \n" + text,
    "one line each": joined,
    "broken everywhere": broken,
    "comments everywhere": each(lambda line: f'{line} # "q" {{ }} ( , -> é𝒳' if line else "# between"),
    "comments in pairs": each(lambda line: outside(line, r"\((\S+), (\S+)\)", "(\n#in\n\\1 ,#of\n\n \\2 )")),
    "comments at braces": each(lambda line: f"# before\n{line}# after" if line == "}" else line),
}


def comments(text: str) -> list[str]:
    return [comment.text for comment in marks_of(text).comments]


@cache
def read(text: str) -> object:
    design = read_design(SourceFile.of("d.plan", text)).value
    assert design is not None
    return meaning(design)


@pytest.mark.parametrize("way", CARELESS)
def test_it_comes_back_with_its_words_and_comments(way: str) -> None:
    careless = CARELESS[way](TEXT)
    assert careless != TEXT
    laid_out = format_text(SourceFile.of("d.plan", careless)).value
    assert laid_out is not None
    assert format_text(SourceFile.of("d.plan", laid_out)).value == laid_out
    assert read(laid_out) == read(TEXT) == read(careless)
    assert comments(laid_out) == comments(careless)
    assert not re.search(r"[ \t\r\xa0]$", laid_out, re.MULTILINE)
    if comments(careless) == comments(TEXT):
        assert laid_out == TEXT


@pytest.mark.parametrize("raw", [b"\xef\xbb\xbf%s", b"%s# \xc3\xa9", b"\r\n%s"])
def test_marks_and_line_ends_of_a_file_are_no_words(raw: bytes, tmp_path: Path) -> None:
    path = tmp_path / "d.plan"
    body = BASE.replace("  ", "\t").encode()
    lines = body.split(b"\n")
    mixed = b"".join(line + (b"\r\n" if i % 3 else b"\n") for i, line in enumerate(lines))
    path.write_bytes(raw % mixed)
    assert main(["format", str(path)]) == 0
    once = path.read_bytes()
    assert main(["format", "--check", str(path)]) == 0
    assert path.read_bytes() == once
    assert read(once.decode("utf-8-sig").replace("\r\n", "\n")) == read(BASE)
