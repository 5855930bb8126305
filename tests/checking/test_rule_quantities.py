"""Quantities of rule text against pint, a general-purpose unit library, and every unit the tool knows.

Source: the unit definitions of pint; `ft 6 in` adds up as carpenters write it (common practice, no source).
"""

from __future__ import annotations

import pint
import pytest

from plangen.checking.amounts import plain_number, read_amount
from plangen.quantity.dimension import UNITS
from plangen.shipped.folders import shipped_text
from plangen.text.source import Span
from tests.checking.small_packs import HEAD, read, rule

AT = Span("x", 0, 1)
UREG = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "magnitude", "unit", "si"),
    [
        ("12 in", 12, "inch", "meter"),
        ("1-1/4 in", 1.25, "inch", "meter"),
        ("3/4 in", 0.75, "inch", "meter"),
        ("2.5 ft", 2.5, "foot", "meter"),
        ("80 psi", 80, "psi", "pascal"),
        ("4.2 bar", 4.2, "bar", "pascal"),
        ("11.5 gpm", 11.5, "gallon/minute", "meter**3/second"),
        ("-3 mm", -3, "millimeter", "meter"),
        ("36 in/h", 36, "inch/hour", "meter/second"),
        ("90 deg", 90, "degree", "degree"),
    ],
)
def test_a_quantity_is_worth_what_pint_says(text: str, magnitude: float, unit: str, si: str) -> None:
    wanted = UREG.Quantity(magnitude, unit).to(si).magnitude
    assert read_amount(text, AT).si == pytest.approx(wanted, rel=1e-9)


def test_a_temperature_and_a_compound_length() -> None:
    assert read_amount("50 degF", AT).si == pytest.approx(UREG.Quantity(50, "degF").to("degC").magnitude)
    assert read_amount("12 ft 6 in", AT).si == pytest.approx(
        UREG.Quantity(12.5, "foot").to("meter").magnitude
    )
    assert read_amount("-1 ft 6 in", AT).si == pytest.approx(
        UREG.Quantity(-1.5, "foot").to("meter").magnitude
    )


def test_bare_numbers_have_no_dimension() -> None:
    assert read_amount("3", AT).dimension is None
    assert [plain_number(x) for x in ("3", "2.5", "3/4", "1-1/2", "-1-1/2")] == [3, 2.5, 0.75, 1.5, -1.5]


@pytest.mark.parametrize("symbol", sorted(UNITS))
def test_every_unit_can_be_written_in_a_rule(symbol: str) -> None:
    text = HEAD + f'limit x 3 {symbol} "x", source "s" read\n' + rule("sleeved")
    outcome = read({"small": text})
    assert outcome.problems == () and outcome.value is not None
    limit = outcome.value[0].limit("x")
    assert limit is not None and limit.dimension is UNITS[symbol].dimension


def test_every_name_for_a_terminal_is_of_a_terminal() -> None:
    grammar = shipped_text("grammar", "rules.lark")
    known = {"LBRACE", "LPAR", "RPAR", "COMMA", "COLON", "$END"}
    known |= {line.split(".")[0].split(":")[0] for line in grammar.splitlines() if line[:1].isupper()}
    lines = [x for x in shipped_text("grammar", "rules.names").splitlines() if x and not x.startswith("#")]
    assert {line.split(" = ")[0] for line in lines} <= known
