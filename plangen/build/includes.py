"""Reads what a design includes: files of its own folder, and libraries that ship with plangen.

A path is relative to the file that names it and stays inside the folder of the design, links followed. A file
named twice is read once; files that include each other in a ring are told.
"""

from __future__ import annotations

import posixpath
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

from plangen.build.inputs import Input, read_input
from plangen.build.pack_texts import is_pack_text
from plangen.diagnostics.diagnostic import Diagnostic, Label, Problems
from plangen.shipped.folders import shipped_folder
from plangen.syntax.includes import take_includes
from plangen.syntax.tree import Include
from plangen.text.suggest import closest, listed

MOST_FILES = 200
# Libraries are known by a folder that no project is likely to have.
LIBRARY = "plangen-library"


@dataclass(slots=True)
class _Reading:
    """What is read so far; `open` are the files being read, outermost first, with their include lines."""

    folder: Path
    library: Path
    problems: Problems = field(default_factory=Problems)
    inputs: dict[str, Input] = field(default_factory=dict)
    failed: set[str] = field(default_factory=set)
    open: dict[str, Include | None] = field(default_factory=dict)


def read_included(
    design: Path, root: Input, library: Path | None = None
) -> tuple[tuple[Input, ...], tuple[Diagnostic, ...]]:
    """Return every file that a design includes, in the order first named, and what could not be read.

    `library` is the folder that libraries are taken from: the shipped one unless another is named.
    """
    folder = shipped_folder("library") if library is None else library
    reading = _Reading(design.resolve().parent, folder, open={root.name: None})
    _follow(root, reading)
    return tuple(reading.inputs.values()), reading.problems.done()


def _follow(read: Input, reading: _Reading) -> None:
    _, includes = take_includes(read.source, Problems())
    for include in includes:
        if include.library:
            _library(include, reading)
        else:
            _file(include, read, reading)


def _library(include: Include, reading: _Reading) -> None:
    names = [p.stem for p in sorted(reading.library.glob("*.plan"))]
    if include.name not in names:
        near = closest(include.name, names)
        reading.problems.error(
            "PG0014",
            f"no library is called `{include.name}`",
            include.span,
            expected="" if near else listed(f"`include library {n}`" for n in names),
            help=f"a similar name exists: `{near}`" if near else "",
        )
        return
    name = f"{LIBRARY}/{include.name}.plan"
    if name not in reading.inputs:
        read = read_input(reading.library / f"{include.name}.plan", name)
        if isinstance(read, Input):
            reading.inputs[name] = read


def _file(include: Include, by: Input, reading: _Reading) -> None:
    name = _name(include, by, reading)
    if name is None or name in reading.failed:
        return
    if name in reading.open:
        way = [line for line in reading.open.values() if line is not None]
        reading.problems.error(
            "PG0013",
            f"`{name}` includes itself" if by.name == name else f"`{name}` comes back to itself by this line",
            include.span,
            help="take one of the include lines away",
            labels=tuple(Label(line.span, "included here") for line in way),
        )
        return
    if name in reading.inputs:
        return
    path = reading.folder.joinpath(*name.split("/"))
    fault = _unfit(path, reading)
    read = fault or read_input(path, name)
    if not isinstance(read, Input):
        reading.failed.add(name)
        told = read if isinstance(read, Diagnostic) else Diagnostic("PG0012", str(read), include.span)
        words = told.message if path.name in told.message else f"`{name}`: {told.message}"
        last = PurePosixPath(include.name).name.split(" ")[-1].removesuffix(".plan")
        shipped = last in {p.stem for p in reading.library.glob("*.plan")}
        help = f"what ships with plangen stands bare: `include library {last}`" if shipped else ""
        reading.problems.error(told.code, words, include.span, help=help)
        return
    reading.inputs[name] = read
    reading.open[name] = include
    _follow(read, reading)
    del reading.open[name]


def _name(include: Include, by: Input, reading: _Reading) -> str | None:
    """Return the path of a file from the folder of the design, or None after a message."""
    written = include.name
    first = PurePosixPath(written).parts[:1]
    bad = "\\" in written or "\x00" in written or written.startswith(("/", "~")) or ":" in "".join(first)
    name = posixpath.normpath(posixpath.join(posixpath.dirname(by.name), written))
    inside = not bad and name != ".." and not name.startswith("../")
    if inside:
        try:
            inside = reading.folder.joinpath(*name.split("/")).resolve().is_relative_to(reading.folder)
        except (OSError, RuntimeError, ValueError):
            inside = False
    if inside and (is_pack_text(name) or name.startswith(f"{LIBRARY}/")):
        # In a packet these names are those of the packs and libraries that it was made with.
        kept = "rule packs, which `jurisdiction` names" if is_pack_text(name) else "its own libraries"
        words = f"`{name}` is a name that plangen keeps for {kept}"
        reading.problems.error("PG0012", words, include.span, help="rename the file or its folder")
        return None
    if inside:
        return name
    reading.problems.error(
        "PG0012",
        f"`{written}` is not a file inside the folder of the design",
        include.span,
        expected="a path with forward slashes, such as `parts/heads.plan`",
        help="copy the file into the folder of the design",
    )
    return None


def _unfit(path: Path, reading: _Reading) -> str:
    """Return why a path is not even opened, or an empty text."""
    if len(reading.inputs) >= MOST_FILES:
        return f"a design includes at most {MOST_FILES} files"
    if path.exists() and not path.is_file() and not path.is_dir():
        return f"`{path.name}` is not a plain file"
    return ""
