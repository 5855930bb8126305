"""The texts a packet was made from, carried inside it under `source/`: what it can be made again from.

Paths in a packet come from its own manifest, which may have been changed: none is followed out of the folder.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from plangen.annotation.clouds import Revised
from plangen.build.inputs import Input
from plangen.build.write import MANIFEST, MANIFEST_FORMAT, Product

SOURCE = "source"


class NotAPacket(Exception):
    """The folder cannot be read as a packet; the text says why."""


@dataclass(frozen=True, slots=True)
class Claimed:
    """What a packet's manifest says of it: its main text, the digests it lists, and what made it."""

    design: str
    version: str
    libraries: tuple[tuple[str, str], ...]
    digest: str
    inputs: tuple[tuple[str, str], ...]  # (path under `source/`, sha256)
    sheets: tuple[tuple[str, str], ...]
    products: tuple[tuple[str, str], ...]
    tables: tuple[tuple[str, str], ...] = ()  # (name, sha256) of the tables of pipes it was worked out with
    revised: Revised | None = None  # what the clouds ring, of a packet compared with an earlier issue


def source_products(inputs: Iterable[Input]) -> list[Product]:
    """Return the texts as files of the packet, byte for byte as read."""
    return [Product(f"{SOURCE}/{entry.name}", entry.raw) for entry in inputs]


def read_claims(folder: Path) -> Claimed:
    """Return what the manifest of a packet says.

    Raises:
        NotAPacket: there is no manifest of ours, or it is broken.
    """
    if not folder.is_dir():
        raise NotAPacket("there is no such folder" if not folder.exists() else "this is a file, not a folder")
    try:
        raw = (folder / MANIFEST).read_bytes()
    except OSError:
        raise NotAPacket(f"the folder has no {MANIFEST} that can be read") from None
    try:
        facts = json.loads(raw)
        if facts["format"] != MANIFEST_FORMAT:
            raise NotAPacket(f"its {MANIFEST} is not one of plangen's")
        inputs = _digests(facts["inputs"], "path") + _digests(facts["packs"], "path")
        claimed = Claimed(
            design=inputs[0][0],
            version=str(facts["tool"]["version"]),
            libraries=tuple(sorted((str(k), str(v)) for k, v in dict(facts["libraries"]).items())),
            digest=str(facts["digest"]),
            inputs=inputs,
            sheets=_digests(facts["sheets"], "id"),
            products=_digests(facts["products"], "path"),
            tables=_digests(facts.get("tables", []), "path"),
            revised=_revised(facts.get("revised")),
        )
    except (ValueError, KeyError, TypeError, IndexError, RecursionError):
        raise NotAPacket(f"its {MANIFEST} is broken") from None
    if not all(inside(path) for path, _ in (*claimed.inputs, *claimed.products)):
        raise NotAPacket(f"its {MANIFEST} names files outside of the folder")
    return claimed


def _revised(facts: dict[str, object] | None) -> Revised | None:
    if facts is None:
        return None
    objects = facts["objects"]
    if not isinstance(objects, list):
        raise TypeError("not a list")
    return Revised(str(facts["label"]), tuple(map(str, objects)), str(facts["since"]))


def _digests(rows: list[dict[str, object]], key: str) -> tuple[tuple[str, str], ...]:
    return tuple((str(row[key]), str(row["sha256"])) for row in rows)


def inside(path: str) -> bool:
    """Return whether a path with forward slashes stays inside the folder it is taken from."""
    parts = PurePosixPath(path).parts
    drive = bool(parts) and (":" in parts[0] or parts[0].startswith("/"))
    return bool(parts) and not drive and ".." not in parts and "\\" not in path and "\x00" not in path


def files_of(folder: Path) -> dict[str, bytes]:
    """Return every file of a folder by its path with forward slashes; no link is followed.

    Raises:
        OSError: a file cannot be read.
    """
    found: dict[str, bytes] = {}
    for path in sorted(folder.rglob("*")):
        name = path.relative_to(folder).as_posix()
        if path.is_symlink():
            found[name] = b"a symbolic link"
        elif path.is_file():
            found[name] = path.read_bytes()
    return found
