"""Which designs stand behind the paths a user names: files as they are, folders with all designs in them."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path

from plangen.build.inputs import Input, read_input
from plangen.build.source_files import SOURCE
from plangen.build.write import MANIFEST
from plangen.diagnostics.diagnostic import Problems
from plangen.syntax.includes import take_includes

ENDING = ".plan"


def designs_of(paths: Iterable[Path]) -> tuple[Path, ...]:
    """Return the design files: those named as often as they are, those of a folder in the order of names.

    Folders within a folder count too. A file that another of the same folder includes is a part of that
    design and none itself. A folder without a design stays as it is, so that whoever reads it is told.
    """
    found: list[Path] = []
    for path in paths:
        if path.is_dir():
            found += [p for p in _in_folder(path) or (path,) if p not in found]
        else:
            found.append(path)
    return tuple(found)


def _in_folder(folder: Path) -> tuple[Path, ...]:
    files: list[Path] = []
    for place, within, names in os.walk(folder):
        # A packet holds copies of the texts it was made from; hidden folders are not meant.
        copies = {SOURCE} if MANIFEST in names else set()
        within[:] = sorted(n for n in within if not n.startswith(".") and n not in copies)
        files += [Path(place, n) for n in names if n.endswith(ENDING) and not n.startswith(".")]
    files.sort(key=lambda p: p.as_posix())
    parts = {part for file in files for part in _included(file)}
    return tuple(f for f in files if f.resolve() not in parts)


def _included(file: Path) -> list[Path]:
    """Return the files a file includes, itself left out; one that cannot be read includes none."""
    read = read_input(file, file.name)
    if not isinstance(read, Input):
        return []
    _, includes = take_includes(read.source, Problems())
    parts = [
        (file.parent / i.name).resolve()
        for i in includes
        if i.name and not i.library and "\x00" not in i.name
    ]
    return [p for p in parts if p != file.resolve()]
