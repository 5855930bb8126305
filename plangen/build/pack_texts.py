"""Find and read the rule packs: the shipped ones and those of folders the user names. Judges nothing."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from plangen.build.inputs import Input, read_input
from plangen.diagnostics.diagnostic import Diagnostic, Outcome
from plangen.shipped.folders import shipped_folder

PACK_FILE = "pack.rules"


def read_packs(folders: Iterable[Path] = (), *, shipped: bool = True) -> Outcome[tuple[Input, ...]]:
    """Return every pack's text, in the order of names; a named folder's pack hides a shipped one.

    Without `shipped` only the named folders count.

    A pack is a folder with a `pack.rules` in it. The input's name is `rules/NAME/pack.rules`.
    """
    found: dict[str, Path] = {}
    for root in (*([shipped_folder("rules")] if shipped else []), *folders):
        for file in sorted(root.glob(f"*/{PACK_FILE}")):
            found[file.parent.name] = file
    inputs: list[Input] = []
    faults: list[Diagnostic] = []
    for name, path in sorted(found.items()):
        read = read_input(path, f"rules/{name}/{PACK_FILE}")
        if isinstance(read, Diagnostic):
            faults.append(read)
        else:
            inputs.append(read)
    return Outcome(tuple(inputs), tuple(faults))


def is_pack_text(name: str) -> bool:
    """Return whether a text of that name is a rule pack's: a project may have a folder `rules` of its own."""
    parts = name.split("/")
    return len(parts) == 3 and parts[0] == "rules" and parts[2] == PACK_FILE


def pack_name(pack: Input) -> str:
    """Return the name of the pack a text belongs to: that of its folder."""
    return pack.name.split("/")[-2]
