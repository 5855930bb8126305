"""Where each pack lies, and what lies beside its text: its cases and the design they change."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from plangen.build.inputs import Input, read_input
from plangen.build.pack_texts import PACK_FILE
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.shipped.folders import shipped_folder

CASES_FILE = "pack.cases"


def pack_folders(folders: Iterable[Path] = ()) -> dict[str, Path]:
    """Return the folder of each pack, in the order of names; a named folder's pack hides a shipped one."""
    found: dict[str, Path] = {}
    for root in (shipped_folder("rules"), *folders):
        for file in root.glob(f"*/{PACK_FILE}"):
            found[file.parent.name] = file.parent
    return dict(sorted(found.items()))


def read_case_file(folder: Path) -> Input | Diagnostic | None:
    """Return a pack's cases as read, or None if it has none."""
    path = folder / CASES_FILE
    return read_input(path, f"rules/{folder.name}/{CASES_FILE}") if path.is_file() else None


def read_base(folder: Path, name: str) -> Input | Diagnostic:
    """Return the design that cases change: one in the pack's own folder, else a shipped example."""
    own = folder / f"{name}.plan"
    path = own if own.is_file() else shipped_folder("examples") / name / "design.plan"
    return read_input(path, f"{name}.plan")
