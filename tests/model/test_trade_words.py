"""The trade's other words are understood and answered with ours; what nobody says is not guessed at.

The words on the left are the trade's: from memory, and the abbreviations of assemblies as cross-connection
manuals have them; the class of a PVC pipe and its SDR as in ASTM D2241 (class 200 is SDR 21).
"""

from __future__ import annotations

import pytest

from plangen.model.pipe_table import families
from plangen.model.read import read_design
from plangen.model.read_place import BEARINGS
from plangen.model.schema.blocks import BLOCKS
from plangen.quantity.dimension import UNITS
from plangen.text.source import SourceFile
from plangen.text.trade_words import plain, trade_words
from tests.diagnostics.code_page_texts import BASE, merged


def message(block: str, line: str) -> tuple[str, str]:
    """Return the code and the help of the one message that the small design gets with this line."""
    problems = read_design(SourceFile.of("d.plan", merged(BASE, f"{block} {{\n{line}"))).problems
    assert len(problems) == 1, [p.message for p in problems]
    return problems[0].code, problems[0].help


@pytest.mark.parametrize(
    ("block", "line", "code", "ours"),
    [
        ("site", "electric E1 route (0, 0) -> (4, 4)", "PG2002", "power"),
        ("site", "Electric E1 route (0, 0) -> (4, 4)", "PG2002", "power"),
        ("site", "lawn Back outline (0, 0) -> (4, 4) -> (5, 9)", "PG2002", "turf"),
        ("site", "leach field F outline (0, 0) -> (4, 4) -> (5, 9)", "PG2002", "septic field"),
        ("connection", "ball valve IV2 at (4, 4)", "PG2002", "isolation"),
        ("connection", "shut-off IV2 at (4, 4)", "PG2002", "isolation"),
        ("connection", "backflow preventer B2 pvb-a, at (4, 4)", "PG2002", "assembly"),
        ("connection", "assembly BF1 pvb-a, rpz, at (4, 4)", "PG2003", "rp"),
        ("connection", "assembly BF1 pvb-a, DCVA, at (4, 4)", "PG2003", "dc"),
        ("mainline", "main P2 pvc-sch40 1 in, route BF1 -> V1", "PG2002", "pipe"),
        ("mainline", "pipe P2 pvc-sch40 1 in, route BF1 -> V1, burial depth 18 in", "PG2003", "cover"),
        ("mainline", "pipe P2 class-200 1 in, route BF1 -> V1", "PG2019", "pvc-sdr21"),
        ("zone Z1", "sprinkler H7 spray-a, at (4, 4)", "PG2002", "head"),
        ("zone Z1", "nozzle H7 spray-a, at (4, 4)", "PG2002", "head"),
        ("zone Z1", "control valve V1 valve-a, at (5, 36)", "PG2002", "valve"),
        ("zone Z1", "dripline D1 drip-a, over Front", "PG2002", "drip"),
        ("zone Z1", "head H1 spray-a, at (5, 35), on L1, pattern east to south", "PG2003", "arc"),
        ("zone Z1", "head H1 spray-a, at (5, 35), on L1, arc e to south", "PG2012", "east"),
        ("part spray-a", "kind rotary", "PG2012", "rotor"),
        ("part spray-a", "throw 15 ft at 30 psi", "PG2002", "radius"),
        ("project", "units imperial", "PG2012", "us"),
        ("clock", "days 3", "PG2001", "control"),
    ],
)
def test_the_trades_word_is_answered_with_ours(block: str, line: str, code: str, ours: str) -> None:
    assert message(block, line) == (code, f"here it is called `{ours}`")


def test_a_word_with_several_meanings_is_answered_with_all_that_are_legal_there() -> None:
    _, help = message("connection", "assembly BF1 pvb-a, vacuum breaker, at (4, 4)")
    assert help == "here it is called `pvb`, `svb` or `avb`"
    _, help = message("zone Z1", "kind sprinkler")
    assert help == "here it is called `spray` or `rotor`"


def test_a_word_of_another_block_is_sent_there() -> None:
    assert (
        message("mainline", "timer C1 at (3, 4)")[1] == "it is called `controller` and belongs in `control`"
    )
    assert message("site", "house H9 outline (0, 0) -> (4, 4) -> (5, 9)")[1] == (
        "it belongs in `supply`; here it is called `building`"
    )


def test_a_word_too_many_before_a_name_is_taken_away_and_is_no_name() -> None:
    assert message("connection", "isolation valve IV2 at (4, 4)") == ("PG2027", "take `valve` away")


@pytest.mark.parametrize(
    ("block", "line"),
    [
        ("site", "zyxw Q1 at (3, 4)"),
        ("zone Z1", "flange Q1 valve-a, at (5, 36)"),
        ("connection", "assembly BF1 pvb-a, quux, at (4, 4)"),
        ("mainline", "pipe P2 bamboo 1 in, route BF1 -> V1"),
        ("supply", "house HS at (10, 42), demand 4 furlongs"),
        ("gizmo", "days 3"),
    ],
)
def test_an_unknown_word_near_none_gets_no_suggestion(block: str, line: str) -> None:
    assert message(block, line)[1] == ""


@pytest.mark.parametrize(
    ("block", "line", "right"),
    [
        ("supply", "source W1 at (2, -5), static 62 pounds", "62 psi"),
        ("supply", "source W1 at (2, -5), static 62 lbs per square inch", "62 psi"),
        ("supply", "house HS at (10, 42), demand 4 gallons per minute", "4 gpm"),
        ("supply", "house HS at (10, 42), demand 4 gal per minute", "4 gpm"),
        ("supply", "house HS at (10, 42), demand 4 gal/min", "4 gpm"),
        ("supply", "house HS at (10, 42), demand 4 GPM", "4 gpm"),
        ("supply", "house HS at (10, 42), demand 0.3 l/sec", "0.3 L/s"),
        ("supply", "source W1 at (2, -5), temperature 60 deg F", "60 degF"),
        ("site", "sewer SS1 route (30, 40) -> (30, -5), depth 4 feet", "4 ft"),
        ("site", "sewer SS1 route (30, 40) -> (30, -5), depth 4'", "4 ft"),
        ("site", "sewer SS1 route (30, 40) -> (30, -5), depth 4'-6\"", "4 ft 6 in"),
        ("site", "sewer SS1 route (30, 40) -> (30, -5), depth 4’ 6 1/2”", "4 ft 6 1/2 in"),
        ("zone Z1", 'swing joint reach 18"', "18 in"),
    ],
)
def test_a_unit_in_words_or_marks_is_answered_with_what_to_write(block: str, line: str, right: str) -> None:
    assert message(block, line)[1].endswith(f"write `{right}`")


def test_every_word_of_the_table_can_be_offered_somewhere() -> None:
    """Ours is legal in some place in which the trade's word is not; else the row would never be read."""
    places: list[set[str]] = [set(BLOCKS), set(families()), set(BEARINGS)]
    for block in BLOCKS.values():
        places.append({s.words for s in block.statements})
        for statement in block.statements:
            for spec in (statement, *((statement.items,) if statement.items else ())):
                places.append({w for c in spec.clauses for w in ((c.words,) if c.lead else c.choices)})
                places += [set(slot.choices) for slot in spec.slots()]
    for ours, theirs in trade_words()["words"].items():
        for word in theirs:
            assert any(ours in p and word not in p for p in places), f"{word} for {ours}"


def test_every_unit_of_the_table_is_one_and_no_word_stands_for_two() -> None:
    rows = trade_words()["units"]
    words = [plain(word) for theirs in rows.values() for word in theirs]
    assert set(rows) <= set(UNITS)
    assert len(words) == len(set(words))
    assert not set(words) & {u for u in UNITS if u == plain(u)}
