"""Checked packs kept as bytes between runs, so that reading and checking them is paid for once.

In: what packs were made of. Out: a key that changes with any of it, and packs to bytes and back. The bytes
are a pickle: they belong in the user's own cache folder and nowhere else. It reads and writes no file.
"""

from __future__ import annotations

import hashlib
import pickle
import sys
from collections.abc import Iterable, Mapping

import plangen
from plangen.checking.packs import CheckedPack
from plangen.facts.values import Relation
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile


def store_key(
    names: Iterable[str], texts: Mapping[str, SourceFile], vocabulary: tuple[Relation, ...], version: str
) -> str:
    """Return a key of everything that checked packs depend on: texts, vocabulary, grammar, this program."""
    parts = [sys.version, getattr(plangen, "__version__", ""), version, repr(vocabulary), *names]
    parts.append(shipped_text("grammar", "rules.lark"))
    for name in sorted(texts):
        parts += [name, texts[name].name, texts[name].text]
    digest = hashlib.sha256()
    for part in parts:
        digest.update(f"{len(part)}:{part}".encode())
    return digest.hexdigest()[:32]


def packs_to_bytes(packs: tuple[CheckedPack, ...]) -> bytes:
    """Return checked packs as bytes."""
    return pickle.dumps(packs, protocol=5)


def packs_from_bytes(data: bytes) -> tuple[CheckedPack, ...] | None:
    """Return checked packs from bytes, or None if they are damaged or of another make."""
    try:
        packs = pickle.loads(data)
    except Exception:  # a damaged pickle can raise anything; the pack texts are the remedy
        return None
    whole = isinstance(packs, tuple) and packs and all(isinstance(p, CheckedPack) for p in packs)
    return packs if whole else None
