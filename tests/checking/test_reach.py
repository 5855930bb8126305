"""A pack may not ask for more than the facts list: what lies farther would read as not applying.

No outside source: that nothing falls away unseen is the requirement itself.
"""

from __future__ import annotations

import pytest

from plangen.checking.load import load_packs
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.text.source import SourceFile

PACK = """pack small {
  title      "Small"
  authority  "Town"
  edition    "2026"
  effective  2026-01-01
  contact    "Desk"
  facts      1
  invented place
}

limit far 120 ft "from a well", source "Town ordinance", section "5", edition "2026", read

rule apart "Apart" {
  for each  ABOUT
  require   REQUIRE
  severity  required
  why       "Water of a well is drunk"
  fix       "Move it"
  source    "Town ordinance", section "5", edition "2026", read
}
"""


def problems(about: str, require: str) -> tuple[Diagnostic, ...]:
    text = PACK.replace("ABOUT", about).replace("REQUIRE", require)
    source = {"small": SourceFile.of("small/pack.rules", text)}
    return load_packs(("small",), source, VOCABULARY, VERSION).problems


@pytest.mark.parametrize(
    ("about", "require"),
    [
        ("setback where feature is well", "distance at least 150 ft"),
        ("setback where feature is well", "distance at least limit far"),
        ("setback where distance less than 200 ft", "downstream_of_assembly"),
        ("separation", "horizontal_distance at least 15 ft or height_above at least 12 in"),
    ],
)
def test_more_than_is_listed_is_refused_with_a_way_out(about: str, require: str) -> None:
    (found,) = problems(about, require)
    assert found.code == "PG5210" and found.severity.value == "error"
    assert "listed up to" in found.message and "`ask` a person" in (found.help or "")


@pytest.mark.parametrize(
    ("about", "require"),
    [
        ("setback where feature is well", "distance at least 100 ft"),
        ("separation", "horizontal_distance at least 10 ft"),
    ],
)
def test_what_is_listed_may_be_asked(about: str, require: str) -> None:
    assert problems(about, require) == ()
