"""Make a packet again from the texts it carries, and say where it differs from what those texts give.

Nothing the packet says of itself is believed: its drawings, report and manifest are held against new ones,
so a packet whose files were all altered to agree with each other is found out.
"""

from __future__ import annotations

import json
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from plangen import __version__
from plangen.build.digest import sha256, sheet_digest
from plangen.build.includes import LIBRARY
from plangen.build.job import run_job
from plangen.build.manifest import library_versions, table_digests
from plangen.build.pack_texts import is_pack_text, read_packs
from plangen.build.pipeline import Run
from plangen.build.plan_set import PDF_NAMES
from plangen.build.products import Made, make_products
from plangen.build.source_files import SOURCE, Claimed, NotAPacket, files_of, read_claims
from plangen.shipped.folders import shipped_folder

_DROPPINGS = {".DS_Store", "Thumbs.db", "desktop.ini"}


@dataclass(frozen=True, slots=True)
class Verified:
    """What came of it. `same` only if every file is the one that the attached texts give."""

    digest: str  # of the attached texts, as it stands on every sheet; empty where nothing could be made
    compared: int
    differences: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def same(self) -> bool:
        """Return whether nothing differs."""
        return not self.differences


def verify_packet(folder: Path, step: Callable[[str], None]) -> Verified:
    """Return how a packet compares with the one made anew from its own `source/`.

    Raises:
        NotAPacket: the folder is none, or carries no texts to make it again from.
        OSError: a file cannot be read.
    """
    claimed = read_claims(folder)
    files = {n: d for n, d in files_of(folder).items() if n.rsplit("/", 1)[-1] not in _DROPPINGS}
    texts = {n.removeprefix(f"{SOURCE}/"): d for n, d in files.items() if n.startswith(f"{SOURCE}/")}
    if claimed.design not in texts:
        raise NotAPacket(f"it carries no {SOURCE}/{claimed.design}, so it cannot be made again")
    run, made = _made_anew(claimed, texts, step)
    step("comparing")
    notes = (*_version_notes(claimed), *_pack_notes(texts), *_library_notes(texts), *_cloud_notes(claimed))
    if made is None or run.checked is None:
        said = "; ".join(p.message for p in run.problems[:3])
        stopped = f"the attached design gives no packet at all: {said}"
        return Verified("", 0, (*_input_differences(claimed, texts), stopped), notes)
    anew = {product.path: product.data for product in made.products}
    if made.pdf_missing:
        files = {name: data for name, data in files.items() if name not in PDF_NAMES}
    digests = {s.id: sheet_digest(s) for s in run.checked.sheets.sheets}
    differences = (
        *_input_differences(claimed, texts),
        *_sheet_differences(claimed, digests),
        *_finding_differences(files.get("report.json", b""), anew["report.json"]),
        *_file_differences(files, anew),
    )
    if made.pdf_missing:
        names = ", ".join(PDF_NAMES)
        notes = (*notes, f"{names}: could not be made here, so were not compared: {made.pdf_missing}")
    return Verified(made.digest, len(anew), differences, notes)


def _made_anew(
    claimed: Claimed, texts: dict[str, bytes], step: Callable[[str], None]
) -> tuple[Run, Made | None]:
    """Write the attached texts into a folder of their own, and build from there and from nothing else."""
    with tempfile.TemporaryDirectory(prefix="plangen-verify-") as name:
        root = Path(name)
        for path, data in texts.items():
            target = root.joinpath(*path.split("/"))
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_bytes(data)
        main = root.joinpath(*claimed.design.split("/"))
        run = run_job(main, (root / "rules",), step, shipped=False, library=root / LIBRARY)
        made = None
        if run.checked is not None:
            made = make_products(run, run.checked, step, claimed.revised)
    return run, made


def _cloud_notes(claimed: Claimed) -> tuple[str, ...]:
    if claimed.revised is None:
        return ()
    return (
        f"its clouds compare with the issue {claimed.revised.since[:12]}, which it does not carry:"
        " which objects they ring was taken from its manifest",
    )


def _input_differences(claimed: Claimed, texts: dict[str, bytes]) -> list[str]:
    listed = dict(claimed.inputs)
    found = []
    for path in sorted(listed.keys() | texts.keys()):
        if path not in texts:
            found.append(f"input {path}: listed in the manifest, not in {SOURCE}/")
        elif path not in listed:
            found.append(f"input {path}: in {SOURCE}/, not listed in the manifest")
        elif sha256(texts[path]) != listed[path]:
            found.append(f"input {path}: its digest is not the one in the manifest")
    return found


def _sheet_differences(claimed: Claimed, anew: dict[str, str]) -> list[str]:
    listed = dict(claimed.sheets)
    found = []
    for sheet in sorted(listed.keys() | anew.keys()):
        if sheet not in anew:
            found.append(f"sheet {sheet}: the attached design gives no such sheet")
        elif sheet not in listed:
            found.append(f"sheet {sheet}: missing from the manifest")
        elif listed[sheet] != anew[sheet]:
            found.append(f"sheet {sheet}: its digest {listed[sheet][:12]} should be {anew[sheet][:12]}")
    return found


def _finding_differences(claimed: bytes, anew: bytes) -> list[str]:
    """Return the findings that the packet's report tells otherwise than the rebuilt one."""
    try:
        said = {str(f["id"]): f for f in json.loads(claimed)["findings"]}
    except (ValueError, KeyError, TypeError, RecursionError):
        return ["report.json: it has no findings that can be read"]
    true: dict[str, Any] = {str(f["id"]): f for f in json.loads(anew)["findings"]}
    found = []
    for name in sorted(said.keys() | true.keys()):
        if name not in true:
            found.append(f"finding {name}: the attached design and packs give no such finding")
        elif name not in said:
            found.append(f"finding {name}: left out; it should read: {true[name]['status']}")
        elif said[name] != true[name]:
            found.append(f"finding {name}: {_otherwise(said[name], true[name])}")
    return found


def _otherwise(said: dict[str, Any], true: dict[str, Any]) -> str:
    fields = sorted(key for key in said.keys() | true.keys() if said.get(key) != true.get(key))
    told = f"it says {said.get('status')}, should be {true['status']}; " if "status" in fields else ""
    return f"{told}other {', '.join(fields)}"


def _file_differences(files: dict[str, bytes], anew: dict[str, bytes]) -> list[str]:
    found = []
    for path in sorted(files.keys() | anew.keys()):
        if path not in anew:
            found.append(f"file {path}: it does not belong to the packet")
        elif path not in files:
            found.append(f"file {path}: missing")
        elif files[path] != anew[path]:
            pairs = enumerate(zip(files[path], anew[path], strict=False))
            place = next((i for i, (a, b) in pairs if a != b), -1)
            where = f"from byte {place + 1} on" if place >= 0 else "in length"
            found.append(f"file {path}: it differs {where}")
    return found


def _version_notes(claimed: Claimed) -> list[str]:
    notes = []
    if claimed.version != __version__:
        notes.append(f"the packet says plangen {claimed.version} made it; this is {__version__}")
    here = library_versions()
    others = [f"{k} {v} (here {here.get(k, 'missing')})" for k, v in claimed.libraries if here.get(k) != v]
    if others:
        notes.append(f"it was made with other libraries, which may change bytes: {', '.join(others)}")
    held = dict(table_digests())
    tables = [name for name, digest in claimed.tables if held.get(name) != digest]
    if tables:
        notes.append(
            f"it was worked out with other tables of pipes than this plangen has: {', '.join(tables)}"
        )
    return notes


def _library_notes(texts: dict[str, bytes]) -> list[str]:
    """Tell libraries of parts that are not the shipped ones: they were taken as the packet has them."""
    notes = []
    for name in sorted(n for n in texts if n.startswith(f"{LIBRARY}/")):
        shipped = shipped_folder("library") / name.removeprefix(f"{LIBRARY}/")
        if not shipped.is_file() or shipped.read_bytes() != texts[name]:
            notes.append(
                f"{name} is not the library of that name shipped with this plangen; the packet's was used"
            )
    return notes


def _pack_notes(texts: dict[str, bytes]) -> list[str]:
    """Tell packs that are not the shipped ones: the packet may agree with a pack that asks for less."""
    shipped = {p.name: p.raw for p in read_packs().value or ()}
    packs = sorted(n for n in texts if is_pack_text(n))
    return [
        f"{name} is not the pack of that name shipped with this plangen; compare it with the authority's own"
        if name in shipped
        else f"{name} is not shipped with plangen; compare it with the authority's own"
        for name in packs
        if texts[name] != shipped.get(name)
    ]
