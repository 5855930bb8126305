"""The catalogue of diagnostic codes: readable name, stage and one sentence for each."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Entry:
    """One code: `PG2004`, `unknown-unit`, what it says in a sentence."""

    code: str
    name: str
    summary: str


@lru_cache(maxsize=1)
def catalogue() -> dict[str, Entry]:
    """Return every entry by code, in the order of codes."""
    text = Path(__file__).with_name("catalogue.toml").read_text(encoding="utf-8")
    return {code: Entry(code, e["name"], e["summary"]) for code, e in sorted(tomllib.loads(text).items())}


def name_of(code: str) -> str:
    """Return the readable name of a code, or an empty text for one that is not in the catalogue."""
    entry = catalogue().get(code)
    return entry.name if entry else ""


def find(word: str) -> Entry | None:
    """Return the entry of a code or of a readable name, in either case of letters."""
    for entry in catalogue().values():
        if word.lower() in (entry.code.lower(), entry.name):
            return entry
    return None
