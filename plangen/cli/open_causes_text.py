"""What keeps many findings from being known, said once for reading with the rules it stops. Text only."""

from __future__ import annotations

import textwrap

from plangen.checking.finding import Finding
from plangen.checking.open_causes import OpenCause
from plangen.cli.colour import Paint
from plangen.text.source import SourceSet

_WIDTH = 110


def cause_lines(cause: OpenCause, sources: SourceSet, prefix: str, paint: Paint) -> list[str]:
    """Return what is missing, where to say it and what, then each rule that waits with its objects."""
    required = f" ({cause.required} required)" if cause.required else ""
    place = sources.place(cause.at) if cause.at is not None else None
    lines = [f"  {paint(cause.words, 'bold')}: {len(cause.findings)} findings{required}"]
    if cause.remedy:
        lines.append(f"      to settle: {cause.remedy}")
    if place is not None:
        lines.append(f"      at {prefix}{place.file}:{place.line}:{place.column}")
    return [*lines, *(line for found in cause.rules for line in _rule(found))]


def _rule(found: tuple[Finding, ...]) -> list[str]:
    weight = "" if found[0].severity == "required" else " (advisory)"
    names = ", ".join(f.subject or "design" for f in found)
    count = f" {len(found)}:" if len(found) > 1 else ""
    text = f"{found[0].rule}{weight}:{count} {names}"
    return textwrap.wrap(
        text, _WIDTH, initial_indent="      ", subsequent_indent="          ", break_on_hyphens=False
    )
