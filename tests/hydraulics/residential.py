"""The residential example with pieces of its text replaced, analysed. White space does not count."""

from __future__ import annotations

import re
from functools import lru_cache

from plangen.hydraulics.analyse import analyse
from plangen.hydraulics.results import Hydraulics
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.shipped.folders import shipped_text
from plangen.terrain.surface import Surface
from plangen.text.source import SourceFile


@lru_cache(maxsize=64)
def design_with(*changes: tuple[str, str]) -> Design:
    """Return the example's design with each old text replaced by the new one; each must be found."""
    text = shipped_text("examples", "residential", "design.plan")
    for old, new in changes:
        pattern = r"\s+".join(re.escape(word) for word in old.split())
        text, count = re.subn(pattern, lambda _, new=new: new, text)
        assert count, old
    outcome = read_design(SourceFile.of("design.plan", text))
    assert outcome.value is not None, [p.message for p in outcome.problems]
    return outcome.value


@lru_cache(maxsize=64)
def analysed_with(*changes: tuple[str, str]) -> Hydraulics:
    """Return the hydraulics of the example with changes."""
    design = design_with(*changes)
    return analyse(design, Surface.of(design))
