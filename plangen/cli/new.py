"""`plangen new`: a commented starter design, and the list of what its owner must still find out."""

from __future__ import annotations

import argparse
import sys
import textwrap
from pathlib import Path

from plangen.build.starter import starter_text, tasks
from plangen.cli.exits import Exit

_WIDTH = 96


def new_command(arguments: argparse.Namespace) -> Exit:
    """Write the starter design to a new file; one that is there already is never touched."""
    path: Path = arguments.design
    text = starter_text()
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except FileExistsError:
        sys.stderr.write(f"plangen: {path.as_posix()} is there already and was left as it is\n")
        return Exit.NOT_WRITTEN
    except OSError as fault:
        sys.stderr.write(f"plangen: {path.as_posix()} was not written: {fault.strerror or fault}\n")
        return Exit.NOT_WRITTEN
    sys.stdout.write(tasks_text(text, path.as_posix()))
    return Exit.FINE


def tasks_text(text: str, name: str) -> str:
    """Return the tasks of a design as a list with line numbers."""
    lines = [f"{name} is written. It can be checked at once; these things only you can find out:", ""]
    for task in tasks(text):
        verb = f"{task.verb[0].upper()}{task.verb[1:]}"
        lines += textwrap.wrap(
            f"{verb}: {task.what}", _WIDTH, initial_indent=f"{task.line:>5}  ", subsequent_indent=" " * 7
        )
    lines += ["", f"Next: change it to your job, then run `plangen check {name}`."]
    return "\n".join(lines) + "\n"
