"""A message about two places shows both: what is said twice, contradicts itself, or stands out of order.

The pages of the codes hold the commonest case of each code (see test_code_pages); these are the others.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from plangen.diagnostics.diagnostic import Diagnostic
from plangen.diagnostics.render_text import render_all
from plangen.model.read import read_design
from plangen.text.source import SourceFile, SourceSet
from tests.checking.small_packs import HEAD, LIMITS, read, rule
from tests.diagnostics.code_page_texts import BASE, examples, page_files, whole_text

GOLDEN = Path(__file__).with_name("golden")
RP = '\npart rp-a {\n  kind           assembly\n  label          "RP"\n  assembly       rp\n}\n'
TEST = """
records {
  assembly test BF1 on 2026-05-01, by "A", calibrated 2026-05-03, passed
}
"""
ROW = "heads H3, H4 spray-a, on L1, from 1 ft every 9 ft, between (5, 35) and (35, 35), full circle"
DESIGNS = {
    "arc and full circle": BASE.replace("on L1, arc east", "on L1, full circle, arc east"),
    "spacing and row": BASE.replace("  head H1  ", f"  {ROW}\n  head H1  "),
    "two heights": BASE.replace("24 in above grade", "24 in above grade, height 20 in"),
    "level of another kind": BASE.replace("pvb-a, pvb", "rp-a") + RP,
    "no sensor and one": BASE + '\ncontrol {\n  rain sensor    RS place "eave"\n  rain sensor    none\n}\n',
    "calibrated after": BASE + TEST,
    "not a stop": BASE.replace("along S2 from M1", "along S2 from W1"),
    "two lots": BASE.replace("  turf Front", "  lot Lot2 outline (0, 0) -> (9, 0) -> (9, 9)\n  turf Front"),
    "two grades": BASE.replace("  sewer", "  grade (0, 0) 101 ft\n  sewer"),
    "two valves": BASE.replace("  lateral L1", "  valve V2 valve-a, at (5, 36)\n  lateral L1"),
    "two blocks": BASE + "\nhazards {\n  septic         none\n}\n",
    "two parts": BASE + '\npart valve-a {\n  kind           valve\n  label          "Again"\n}\n',
    "language twice": BASE.replace("plangen 1\n", "plangen 1\nplangen 1\n", 1),
}  # fmt: skip
RULE = rule("sleeved")
PACKS = {
    "a line of a rule twice": HEAD + LIMITS + RULE.replace("  why", "  severity required\n  why"),
    "a line of the pack twice": HEAD.replace("  contact", '  title "Again"\n  contact') + LIMITS + RULE,
    "a clause twice": HEAD + LIMITS.replace('section "2"', 'section "2", section "3"') + RULE,
    "a rule twice": HEAD + LIMITS + RULE + RULE,
}


def told(problems: tuple[Diagnostic, ...], sources: SourceSet) -> str:
    """Return the one message as text; it has to show another place."""
    assert len(problems) == 1, [p.message for p in problems]
    assert problems[0].labels, problems[0].message
    return render_all(problems, sources)


def test_messages_about_two_places_show_both(hold_to_golden: Callable[[Path, str], None]) -> None:
    made = []
    for name, text in DESIGNS.items():
        source = SourceFile.of("yard.plan", text)
        made.append(f"{name}\n{told(read_design(source).problems, SourceSet((source,)))}")
    for name, text in PACKS.items():
        sources = SourceSet((SourceFile.of("small.rules", text),))
        made.append(f"{name}\n{told(read({'small': text}, 'small').problems, sources)}")
    circle = {
        n: HEAD.replace("pack small", f"pack {n} extends {o}") + RULE for n, o in (("a", "b"), ("b", "a"))
    }
    sources = SourceSet(tuple(SourceFile.of(f"{n}.rules", text) for n, text in circle.items()))
    made.append(f"packs in a circle\n{told(read(circle, 'a').problems, sources)}")
    setting = (SourceFile.of("yard.plan", BASE), SourceFile.of("p.plan", "site {\n  coordinates    m\n}\n"))
    made.append(
        f"a setting in an include\n{told(read_design(setting[0], setting[1:]).problems, SourceSet(setting))}"
    )
    hold_to_golden(GOLDEN / "related-places.txt", "\n".join(made))


OF_TWO = (
    *("PG1005", "PG1012", "PG2011", "PG2013", "PG2015", "PG2021", "PG2022", "PG2029", "PG2030", "PG3001"),
    *("PG3003", "PG3004", "PG3005", "PG3006", "PG3007", "PG3014"),
)


@pytest.mark.parametrize("code", OF_TWO)
def test_pages_of_codes_that_tell_of_two_places_show_both(code: str) -> None:
    source = SourceFile.of("wrong.plan", whole_text(*examples(page_files()[code])["Wrong"]))
    (problem,) = read_design(source).problems
    assert problem.labels
