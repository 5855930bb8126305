"""From paths to texts: the only place that reads an author's files.

A path goes in; the text with its bytes, or a diagnostic, comes out. It never judges what the text says.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from plangen.diagnostics.diagnostic import Diagnostic
from plangen.parsing.decode import MOST_BYTES, decode
from plangen.text.source import SourceFile, Span


@dataclass(frozen=True, slots=True)
class Input:
    """One file as read: its name inside the project (forward slashes), its bytes, its text."""

    name: str
    raw: bytes
    source: SourceFile


def read_input(path: Path, name: str) -> Input | Diagnostic:
    """Return a file as read, or what is wrong with it (`PG0002` to `PG0006`) in an author's words."""
    span = Span(name, 0, 0)
    try:
        if path.is_dir():
            return Diagnostic(
                "PG0003",
                f"`{path.name}` is a folder, not a design file",
                span,
                help="name the design file in it",
            )
        with path.open("rb") as file:
            # One byte more than a design can have is enough to know that it has too many.
            raw = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        return Diagnostic(
            "PG0002", f"there is no file `{path.as_posix()}`", span, help="check the path and its spelling"
        )
    except (OSError, ValueError) as fault:
        words = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        return Diagnostic("PG0002", f"`{path.as_posix()}` cannot be read: {words.lower()}", span)
    text = decode(raw, name)
    return text if isinstance(text, Diagnostic) else Input(name, raw, SourceFile.of(name, text))
