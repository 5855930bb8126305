"""The pages of the rule codes: the wrong text gives that code and nothing else, the right text gives nothing.

No outside source: the pages are the language's own description.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from plangen.checking.load import load_packs
from plangen.checking.messages import Code
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.shipped.folders import shipped_folder
from plangen.text.source import SourceFile

FENCE = re.compile(r"^## (Wrong|Right)\n\n```rules\n(.*?)\n```", re.MULTILINE | re.DOTALL)
HEAD = """pack {name} {{
  title      "Frame"
  authority  "Nobody"
  edition    "1"
  effective  2026-01-01
  contact    "none"
  facts      1
  invented place
}}
"""
RULE = """rule {name} "Cover of mains" {{
  for each  pipe where role is mainline
  require   cover at least limit least_cover
  severity  required
  why       "Frost"
  fix       "Dig"
  source    "Frame" common practice
}}
"""
LIMIT = 'limit least_cover 12 in "least cover", source "Frame" common practice\n'
BASE = HEAD.format(name="base") + LIMIT + RULE.format(name="main-cover")
FRAME = HEAD.format(name="example extends base") + RULE.format(name="framed")
# What cannot be shown in a few lines of a pack: a text without one, and faults of a run.
WITHOUT_TEXT = {Code.NO_PACK_BLOCK, Code.NOT_YET_EFFECTIVE, Code.NOTHING_CHECKED}


def page(code: str) -> Path:
    return shipped_folder("site") / "codes" / f"{code}.md"


def problems(text: str) -> tuple[Diagnostic, ...]:
    whole = text if text.startswith("pack ") else FRAME + text
    files = {
        "base": SourceFile.of("base.rules", BASE),
        "example": SourceFile.of("example.rules", whole + "\n"),
    }
    return load_packs(("example",), files, VOCABULARY, VERSION).problems


@pytest.mark.parametrize("code", sorted(set(Code) - WITHOUT_TEXT))
def test_wrong_and_right_text_are_what_they_say(code: Code) -> None:
    found = dict(FENCE.findall(page(code).read_text(encoding="utf-8")))
    assert [p.code for p in problems(found["Wrong"])] == [code.value]
    assert problems(found["Right"]) == ()


@pytest.mark.parametrize("code", sorted(WITHOUT_TEXT))
def test_the_others_are_explained_in_words(code: Code) -> None:
    text = page(code).read_text(encoding="utf-8")
    assert not FENCE.search(text) and "see above" not in text.lower() and len(text) > 200
