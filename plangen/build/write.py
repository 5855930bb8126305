"""Put a packet on disk: written beside its place, then swapped in whole.

Never overwrites what plangen did not make."""

from __future__ import annotations

import contextlib
import json
import shutil
from dataclasses import dataclass
from pathlib import Path

from plangen.build.digest import sha256
from plangen.build.swap import swap_folders

MANIFEST = "manifest.json"
MANIFEST_FORMAT = "plangen-manifest/1"
UNFINISHED = ".plangen-unfinished"
# Files that file managers drop into folders by themselves.
_DROPPINGS = {".DS_Store", "Thumbs.db", "desktop.ini"}


@dataclass(frozen=True, slots=True)
class Product:
    """One file of a packet: its path inside the packet with forward slashes, and its bytes."""

    path: str
    data: bytes


class WriteRefused(Exception):
    """The packet cannot be written there; the text says why and what to do."""


def write_packet(folder: Path, products: tuple[Product, ...]) -> None:
    """Write the products as the whole content of a folder.

    A run killed at any moment leaves the old packet in place or beside it, and the next run clears what
    was left over.

    Raises:
        WriteRefused: the folder holds something plangen did not make, or that was changed since.
        OSError: the disk said no.
    """
    folder = folder.resolve()
    beside, aside = folder.with_name(folder.name + ".new"), folder.with_name(folder.name + ".old")
    _bring_back(aside, folder)
    refuse_foreign(folder)
    _clear_leftover(beside)
    folder.parent.mkdir(parents=True, exist_ok=True)
    try:
        _write_all(beside, products)
        swap_folders(beside, folder)
    except OSError:
        _remove_quietly(beside)
        raise
    # What stands beside now is the old packet, if there was one: nobody needs it any more.
    _remove_quietly(beside)


def _write_all(beside: Path, products: tuple[Product, ...]) -> None:
    beside.mkdir()
    marker = beside / UNFINISHED
    marker.write_bytes(b"A build of plangen that did not end. This folder can be deleted.\n")
    for product in products:
        target = beside.joinpath(*product.path.split("/"))
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(product.data)
    marker.unlink()


def _bring_back(aside: Path, folder: Path) -> None:
    """Undo a swap killed between its two renames, where folders cannot be exchanged in one step."""
    if not aside.is_dir() or _listed(aside) is None:
        return
    if folder.exists():
        _clear_leftover(aside)
    else:
        aside.rename(folder)


def _remove(folder: Path) -> None:
    """Remove a folder of ours so that what is left at any moment can still be told as ours."""
    if not folder.exists():
        return
    marker = folder / UNFINISHED
    marker.touch()
    for child in sorted(folder.iterdir()):
        if child.is_dir() and not child.is_symlink():
            shutil.rmtree(child)
        elif child != marker:
            child.unlink()
    marker.unlink()
    folder.rmdir()


def _remove_quietly(folder: Path) -> None:
    with contextlib.suppress(OSError):
        _remove(folder)


def refuse_foreign(folder: Path) -> None:
    """Raise `WriteRefused` unless the place is free, an empty folder, or an untouched packet of ours."""
    if not folder.exists():
        return
    if not folder.is_dir():
        raise WriteRefused(f"{folder.name} is a file; --out names a folder")
    present = _files_in(folder)
    if not present and not any(folder.iterdir()):
        return
    listed = _listed(folder)
    if listed is None:
        raise WriteRefused(
            f"the folder {folder.name} was not made by plangen, so it is left as it is;"
            " name a new folder with --out"
        )
    strange = sorted(name for name in present if name not in listed and name != MANIFEST)
    known = [name for name in present if name in listed]
    changed = [name for name in known if sha256(_inside(folder, name).read_bytes()) != listed[name]]
    if strange:
        raise WriteRefused(
            f"the folder {folder.name} holds files that plangen did not make ({_some(strange)});"
            " move them elsewhere, or name a new folder with --out"
        )
    if changed:
        raise WriteRefused(
            f"files in {folder.name} were changed since plangen wrote them ({_some(changed)});"
            " move them elsewhere, or name a new folder with --out"
        )


def _inside(folder: Path, name: str) -> Path:
    return folder.joinpath(*name.split("/"))


def _some(names: list[str]) -> str:
    return ", ".join(names[:3]) + (f" and {len(names) - 3} more" if len(names) > 3 else "")


def _files_in(folder: Path) -> list[str]:
    found = (p for p in folder.rglob("*") if (p.is_file() or p.is_symlink()) and p.name not in _DROPPINGS)
    return sorted(p.relative_to(folder).as_posix() for p in found)


def _listed(folder: Path) -> dict[str, str] | None:
    """Return the digests a packet's own manifest lists, or None if this is no packet of ours."""
    try:
        manifest = json.loads((folder / MANIFEST).read_bytes())
        if manifest["format"] != MANIFEST_FORMAT:
            return None
        return {str(p["path"]): str(p["sha256"]) for p in manifest["products"]}
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _clear_leftover(beside: Path) -> None:
    """Remove what a killed run left; refuse to touch anything else of that name."""
    if not beside.exists() and not beside.is_symlink():
        return
    ours = beside.is_dir() and not beside.is_symlink()
    empty = ours and not any(beside.iterdir())
    if not ours or not (empty or (beside / UNFINISHED).is_file() or _listed(beside) is not None):
        raise WriteRefused(f"{beside.name} stands where the packet would be written first; move it elsewhere")
    if _listed(beside) is not None and not (beside / UNFINISHED).exists():
        refuse_foreign(beside)
    _remove(beside)
