"""Designs as they stand for the advice: worked out without sheets, with pieces of their text replaced."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from plangen.advice.judged import Standing
from plangen.advice.least_supply import least_supply
from plangen.checking.check import check
from plangen.checking.packs import CheckedPack
from plangen.packet.least_supply import LeastSupply
from plangen.text.source import SourceFile
from tests.rules.rules_run import example_text, gathered, loaded, worked_out

SMALL = (Path(__file__).parent / "small.plan").read_text(encoding="utf-8")


def changed(text: str, *changes: tuple[str, str]) -> str:
    """Return a text with pieces replaced; each must stand just once in it."""
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def residential(*changes: tuple[str, str]) -> str:
    """Return the text of the residential example with pieces replaced."""
    return changed(example_text("residential"), *changes)


@cache
def standing(text: str, pack: CheckedPack | None = None) -> Standing:
    """Return a design as it stands under a pack, the ordinance of Quillmoor unless told."""
    used = loaded("quillmoor") if pack is None else pack
    _, design, surface, hydraulics, layout, sheets = worked_out(text, False)
    facts = gathered(text).facts
    found = check((used,), facts, design.waivers, design.confirmations, design.project.issued)
    assert found.value is not None, found.problems
    return Standing(design, surface, hydraulics, layout, sheets, facts, (used,), found.value)


@cache
def least_of(text: str) -> LeastSupply:
    """Return the least supply of a design under the ordinance of Quillmoor."""
    return least_supply(standing(text))


def source_of(text: str) -> SourceFile:
    """Return a text as the file it was read from."""
    return worked_out(text, False)[0]
