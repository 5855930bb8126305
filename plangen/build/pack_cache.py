"""Rule packs, read and checked once and then taken from the user's own cache folder.

In: what `load_packs` takes. Out: the same packs. A cache that cannot be read or written costs time and
nothing else; packs with a fault are never kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path

import plangen.checking
from plangen.checking.pack_store import packs_from_bytes, packs_to_bytes, store_key
from plangen.checking.packs import CheckedPack
from plangen.diagnostics.diagnostic import Outcome
from plangen.facts.values import Relation
from plangen.parsing.grammar_cache import cache_folder, keep
from plangen.text.source import SourceFile, Span


def cached_packs(
    names: Iterable[str],
    texts: Mapping[str, SourceFile],
    vocabulary: tuple[Relation, ...],
    version: str,
    at: Span | None = None,
) -> Outcome[tuple[CheckedPack, ...]]:
    """Return the packs of the given names, from the cache if they are there and whole."""
    wanted = tuple(names)
    folder = cache_folder()
    path = folder / f"packs-{_key(wanted, texts, vocabulary, version)}.pickle" if folder else None
    if path is not None:
        found = _read(path)
        if found is not None:
            return Outcome(found, ())
    # the checker and its parser are needed only now
    from plangen.checking.load import load_packs

    loaded = load_packs(wanted, texts, vocabulary, version, at)
    if path is not None and loaded.value is not None and not loaded.problems:
        data = packs_to_bytes(loaded.value)
        keep(path, lambda file: file.write(data))
    return loaded


def _key(
    names: tuple[str, ...], texts: Mapping[str, SourceFile], vocabulary: tuple[Relation, ...], version: str
) -> str:
    """Return the packs' key; the checker's own files count too, for those who change them."""
    own = Path(plangen.checking.__file__).parent
    stamps = [f"{p.name} {p.stat().st_size} {p.stat().st_mtime_ns}" for p in sorted(own.glob("*.py"))]
    return store_key((*names, *stamps), texts, vocabulary, version)


def _read(path: Path) -> tuple[CheckedPack, ...] | None:
    try:
        return packs_from_bytes(path.read_bytes())
    except OSError:
        return None
