"""Diagnostics on the screen: the catalogue's form, with paths as the user wrote them. Text only."""

from __future__ import annotations

from plangen.build.pack_texts import is_pack_text
from plangen.cli.colour import Paint
from plangen.diagnostics.diagnostic import Diagnostic, Severity
from plangen.diagnostics.render_text import alike, render
from plangen.text.source import SourceSet

# More than this on one screen helps nobody; `--output json` has them all.
MOST = 50


def messages_text(problems: tuple[Diagnostic, ...], sources: SourceSet, prefix: str, paint: Paint) -> str:
    """Return all problems as text; `prefix` is the folder put before the names of design files.

    Those that say the same word for word are told as one, with the places of all.
    """
    groups = alike(problems)
    shown = [_message(group, sources, prefix, paint) for group in groups[:MOST]]
    if left := sum(len(group) for group in groups[MOST:]):
        shown.append(f"and {left} more; `plangen check --output json` lists them all\n")
    return "\n".join(shown)


def _message(group: tuple[Diagnostic, ...], sources: SourceSet, prefix: str, paint: Paint) -> str:
    def named(file: str) -> str:
        return file if is_pack_text(file) else f"{prefix}{file}"

    head, _, rest = render(group[0], sources, group[1:], named).partition("\n")
    return f"{paint(head, 'bold', 'red' if group[0].severity is Severity.ERROR else 'yellow')}\n{rest}"
