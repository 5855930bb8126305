"""The version line of a design: `plangen 1`."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.syntax.tree import DesignTree
from plangen.text.source import Span
from plangen.text.suggest import closest

LANGUAGE = "1"
WORD = "plangen"
OUTSIDE = "a block such as `site {` before it"


def check_version(tree: DesignTree, problems: Problems) -> None:
    """Report a version line that is missing, doubled or of another language."""
    lines = tree.versions
    if not lines:
        if tree.whole:
            problems.error(
                "PG1009",
                "the first line does not say which language this is",
                Span(tree.file, 0, 0),
                expected=f"the line `plangen {LANGUAGE}` before the first block",
            )
        return
    first = next((line for line in lines if line.word.text == WORD), lines[0])
    if first.word.text != WORD:
        near = closest(first.word.text, (WORD,))
        problems.error(
            "PG1010",
            f"the version line begins with `{first.word.text}`, not with `{WORD}`",
            first.word.span,
            expected=f"`{WORD} {LANGUAGE}`",
            help=f"a similar word exists: `{near}`" if near else "",
        )
    elif first.number.text != LANGUAGE:
        problems.error(
            "PG1010",
            f"this plangen reads language {LANGUAGE}, not {first.number.text}",
            first.number.span,
            expected=f"`{WORD} {LANGUAGE}`",
        )
    for extra in lines:
        if extra is first:
            continue
        if extra.word.text == WORD:
            told = "the language is said twice"
            problems.error("PG1010", told, extra.span, labels=(Label(first.span, "first said here"),))
        else:
            problems.error("PG1007", "this line stands outside every block", extra.span, expected=OUTSIDE)
