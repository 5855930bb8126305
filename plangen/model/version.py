"""The version line of a design: `plangen 1`."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.syntax.tree import DesignTree
from plangen.text.source import Span

LANGUAGE = "1"


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
    if lines[0].text != LANGUAGE:
        problems.error(
            "PG1010",
            f"this plangen reads language {LANGUAGE}, not {lines[0].text}",
            lines[0].span,
            expected=f"`plangen {LANGUAGE}`",
        )
    for extra in lines[1:]:
        problems.error(
            "PG1010",
            "the language is said twice",
            extra.span,
            labels=(Label(lines[0].span, "first said here"),),
        )
