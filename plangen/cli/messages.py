"""Diagnostics on the screen: the catalogue's form, with paths as the user wrote them. Text only."""

from __future__ import annotations

from plangen.build.pack_texts import is_pack_text
from plangen.cli.colour import Paint
from plangen.diagnostics.diagnostic import Diagnostic, Severity
from plangen.diagnostics.render_text import render
from plangen.text.source import SourceSet

# More than this on one screen helps nobody; `--output json` has them all.
MOST = 50


def messages_text(problems: tuple[Diagnostic, ...], sources: SourceSet, prefix: str, paint: Paint) -> str:
    """Return all problems as text; `prefix` is the folder put before the names of design files."""
    shown = [_message(p, sources, prefix, paint) for p in problems[:MOST]]
    if len(problems) > MOST:
        shown.append(f"and {len(problems) - MOST} more; `plangen check --output json` lists them all\n")
    return "\n".join(shown)


def _message(problem: Diagnostic, sources: SourceSet, prefix: str, paint: Paint) -> str:
    head, _, rest = render(problem, sources).partition("\n")
    colour = "red" if problem.severity is Severity.ERROR else "yellow"
    for file in sorted({problem.span.file, *(label.span.file for label in problem.labels)}):
        if not is_pack_text(file):
            rest = rest.replace(f"  at {file}", f"  at {prefix}{file}")
    return f"{paint(head, 'bold', colour)}\n{rest}"
