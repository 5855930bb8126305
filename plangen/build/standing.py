"""A checked run as what the advice stages lean on."""

from __future__ import annotations

from plangen.advice.judged import Standing
from plangen.build.pipeline import Checked


def standing_of(checked: Checked) -> Standing:
    """Return the results of a checked run for judging variants of it."""
    return Standing(
        checked.design,
        checked.surface,
        checked.hydraulics,
        checked.layout,
        checked.sheets,
        checked.facts,
        checked.packs,
        checked.findings,
    )
