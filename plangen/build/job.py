"""One job from its file: read the design and the packs, run the stages. Every command comes in here."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path

from plangen.build.includes import read_included
from plangen.build.inputs import read_input
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import Run, run_stages
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.text.source import SourceSet


def run_job(
    design: Path,
    pack_folders: Iterable[Path],
    step: Callable[[str], None],
    *,
    shipped: bool = True,
    library: Path | None = None,
) -> Run:
    """Return what a design file comes to; one that cannot be read is a stopped run with the reason.

    The design is known by its file name alone, so that no result depends on where the folder stands.
    Without `shipped` only the packs of the named folders count. `library` is where libraries of parts are
    taken from, if not from those shipped.
    """
    name = design.name or design.as_posix()
    read = read_input(design, name)
    if isinstance(read, Diagnostic):
        return Run(name, SourceSet(()), (), (), (read,))
    included, problems = read_included(design, read, library)
    packs = read_packs(pack_folders, shipped=shipped)
    if packs.value is None or packs.problems:
        return Run(name, SourceSet((read.source,)), (read,), (), packs.problems)
    return run_stages(read, packs.value, step, included, problems)
