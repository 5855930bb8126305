"""`plangen format`: designs and packs in their canonical layout, written in place, or only judged or told."""

from __future__ import annotations

import argparse
import difflib
import sys
from pathlib import Path

from plangen.build.inputs import Input, read_input
from plangen.build.pack_texts import PACK_FILE
from plangen.build.replace_file import replace_file
from plangen.checking.format_pack import format_pack
from plangen.cli.check_one import shown_folder
from plangen.cli.colour import paint_for
from plangen.cli.exits import Exit
from plangen.cli.messages import messages_text
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.model.formatted import format_text
from plangen.text.source import SourceSet

PACK_ENDING = Path(PACK_FILE).suffix


def format_command(arguments: argparse.Namespace) -> Exit:
    """Format every design and pack; return the highest status. A file with syntax errors is left alone."""
    only_look = arguments.check or arguments.diff
    return max(_one(path, only_look, arguments.diff) for path in arguments.designs)


def _one(path: Path, only_look: bool, show: bool) -> Exit:
    name = path.name or path.as_posix()
    read = read_input(path, name)
    if isinstance(read, Diagnostic):
        return _refused((read,), SourceSet(()), path)
    made = format_pack(read.source) if path.suffix == PACK_ENDING else format_text(read.source)
    if made.value is None:
        return _refused(made.problems, SourceSet((read.source,)), path)
    data = _bytes(made.value, read)
    if data == read.raw:
        return Exit.FINE
    if show:
        sys.stdout.writelines(_difference(read.source.text, made.value, path.as_posix()))
    if only_look:
        sys.stderr.write(f"plangen: {path.as_posix()} is not laid out in the canonical way\n")
        return Exit.FALLS_SHORT
    try:
        replace_file(path, data)
    except OSError as fault:
        said = fault.strerror or str(fault)
        sys.stderr.write(f"plangen: {path.as_posix()} was not written: {said}\n")
        return Exit.NOT_WRITTEN
    sys.stderr.write(f"plangen: {path.as_posix()} laid out\n")
    return Exit.FINE


def _bytes(text: str, read: Input) -> bytes:
    """Return the text with the line ends that the file has."""
    ends = "\r\n" if read.raw.count(b"\r\n") * 2 > read.raw.count(b"\n") else "\n"
    return text.replace("\n", ends).encode("utf-8")


def _difference(before: str, after: str, name: str) -> list[str]:
    one, other = before.splitlines(keepends=True), after.splitlines(keepends=True)
    lines = difflib.unified_diff(one, other, f"{name} (as it is)", f"{name} (laid out)")
    return [
        line if line.endswith("\n") else f"{line}\n\\ no line end at the end of the file\n" for line in lines
    ]


def _refused(problems: tuple[Diagnostic, ...], sources: SourceSet, path: Path) -> Exit:
    sys.stderr.write(messages_text(problems, sources, shown_folder(path), paint_for(sys.stderr)))
    sys.stderr.write(f"plangen: {path.as_posix()} was left as it is\n")
    return Exit.UNUSABLE
