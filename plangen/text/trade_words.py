"""Looks up what the trade calls things, in the one table `trade_words.toml`; read when a message needs it."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable
from functools import cache
from pathlib import Path

# A phrase of the trade that is looked up has at most so many words.
LONGEST = 4


def meant(word: str, legal: Iterable[str]) -> tuple[str, ...]:
    """Return which of the legal words the trade's word stands for, in the table's order."""
    known, asked = _by_trade("words"), plain(word)
    there = set(legal)
    # One sprinkler and several may be two things; where only one of them is legal, either word means it.
    for form in (asked, asked.removesuffix("s")):
        names = tuple(ours for ours in known.get(form, ()) if ours in there)
        if names:
            return names
    return ()


def unit_meant(word: str) -> str | None:
    """Return the unit that a word or an abbreviation stands for."""
    return next(iter(_by_trade("units").get(plain(word), ())), None)


def is_other_unit(word: str) -> bool:
    """Return whether a word is a unit in use that this language has not: what is like it would be far off."""
    return plain(word) in map(plain, trade_words()["other"]["units"])


@cache
def trade_words() -> dict[str, dict[str, tuple[str, ...]]]:
    """Return the table: the trade's words for each of ours in `words`, each unit in `units`; and `other`."""
    text = Path(__file__).with_name("trade_words.toml").read_text(encoding="utf-8")
    return {kind: {o: tuple(t) for o, t in rows.items()} for kind, rows in tomllib.loads(text).items()}


def plain(word: str) -> str:
    """Return a word as it is looked up: small letters, blanks for hyphens."""
    return " ".join(word.lower().replace("-", " ").split())


@cache
def _by_trade(kind: str) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for ours, theirs in trade_words()[kind].items():
        for word in theirs:
            found[plain(word)] = (*found.get(plain(word), ()), ours)
    return found
