"""Diagnostics as people read them: headline, place, the line as written, what to do. Text only."""

from __future__ import annotations

from plangen.cli.colour import Paint
from plangen.diagnostics.diagnostic import Diagnostic, Severity
from plangen.text.source import SourceSet, Span

# More than this on one screen helps nobody; `--output json` has them all.
MOST = 50
_TAB = " "


def messages_text(problems: tuple[Diagnostic, ...], sources: SourceSet, prefix: str, paint: Paint) -> str:
    """Return all problems as text; `prefix` is the folder put before file names."""
    shown = [message_text(p, sources, prefix, paint) for p in problems[:MOST]]
    if len(problems) > MOST:
        shown.append(f"and {len(problems) - MOST} more; `plangen check --output json` lists them all\n")
    return "\n".join(shown)


def message_text(problem: Diagnostic, sources: SourceSet, prefix: str, paint: Paint) -> str:
    """Return one problem as text."""
    word = "error" if problem.severity is Severity.ERROR else "warning"
    colour = "red" if problem.severity is Severity.ERROR else "yellow"
    lines = [f"{paint(f'{word} {problem.code}', 'bold', colour)}: {paint(problem.message, 'bold')}"]
    lines += _place(problem.span, sources, prefix, "")
    if problem.expected:
        lines.append(f"  expected: {problem.expected}")
    for label in problem.labels:
        lines += _place(label.span, sources, prefix, label.text)
    if problem.help:
        lines.append(f"  help: {problem.help}")
    return "\n".join(lines) + "\n"


def _place(span: Span, sources: SourceSet, prefix: str, text: str) -> list[str]:
    source = sources.get(span.file)
    if source is None:
        return [f"  at {prefix}{span.file}"]
    line, column = source.line_column(span.start)
    where = f"  at {prefix if not span.file.startswith('rules/') else ''}{span.file}:{line}:{column}"
    written = source.line(line).replace("\t", _TAB)
    if not written.strip():
        return [f"{where}{f': {text}' if text else ''}"]
    width = max(1, min(span.end - span.start, len(written) - column + 1))
    mark = " " * (column - 1) + "^" * width
    number = f"{line:>5} | "
    return [where, f"{number}{written}", f"{'':>5} | {mark}{f' {text}' if text else ''}"]
