"""Heights, clearances, velocities, covers and test values of the packs, held against the texts they cite.

Beside each stands what the text says, in its own unit: read or restated at an address that a pack's README
names, or from memory where the pack says so too.
"""

from __future__ import annotations

import pytest

from tests.rules import pack_facts as p

# (pack, limit, value, title of the source, section, how it is known)
VALUES = (
    # Heights. 30 TAC 344.50(b)(2) to (4): 12 in over ground, piping and highest opening (retracted).
    ("texas", "rp_above_grade", "12 in", "30 TAC 344.50", "(b)(2)", "read"),
    ("texas", "vacuum_breaker_above_outlets", "12 in", "30 TAC 344.50", "(b)(3)(B)", "read"),
    ("texas", "vacuum_breaker_above_piping", "12 in", "30 TAC 344.50", "(b)(3)(B)", "read"),
    ("model-us", "rp_above_grade", "12 in", "30 TAC 344.50", "(b)(2)", "read"),
    ("model-us", "vacuum_breaker_above_outlets", "12 in", "30 TAC 344.50", "(b)(3)", "read"),
    ("model-us", "vacuum_breaker_above_piping", "12 in", "30 TAC 344.50", "(b)(3)", "read"),
    # Gilbert, Arizona: an atmospheric vacuum breaker 6 in over the highest outlet; supply line 12 in deep.
    ("model-us", "atmospheric_above_outlets", "6 in", "Gilbert, Arizona", "atmospheric", "read"),
    ("model-us", "main_cover", "12 in", "Gilbert, Arizona", "supply line", "read"),
    # Beverly Hills 6-1-604: 12 to 36 in over grade.
    ("model-us", "rp_not_above", "36 in", "Beverly Hills", "6-1-604", "read"),
    # The UK water industry's glossary, type DB: 300 mm above the spillover level of the appliance.
    ("uk-garden", "interrupter_above_outlets", "300 mm", "glossary, type DB", "installation", "read"),
    # Clearances. Fort Worth 12.5: 6 in round 2 in and under. 30 TAC 344.62(b)(3): 4 in from hardscape.
    ("model-us", "wall_clearance", "6 in", "Fort Worth", "12.5", "read"),
    ("model-us", "hardscape_distance", "4 in", "30 TAC 344.62", "(b)(3)", "read"),
    ("texas", "hardscape_distance", "4 in", "30 TAC 344.62", "(b)(3)", "read"),
    # 30 TAC 344.62(b)(1), (2): a tenth over the published radius; strips under 48 in between two paved sides.
    ("texas", "spacing_over_radius", "110 %", "30 TAC 344.62", "(b)(1)", "read"),
    ("texas", "strip_width", "48 in", "30 TAC 344.62", "(b)(2)", "read"),
    ("texas", "strip_paved_sides", "2", "30 TAC 344.62", "(b)(2)", "read"),
    # International Plumbing Code 603.2: 5 ft aside or 12 in above a sewer.
    ("model-us", "sewer_aside", "5 ft", "International Plumbing Code", "603.2", "restated"),
    ("model-us", "sewer_above", "12 in", "International Plumbing Code", "603.2", "restated"),
    # 23 CCR 492.7(a)(1)(T) to (V): 10 ft, 24 in; 0.75 in/h on slopes over 25 %.
    ("california-landscape", "narrow_area", "10 ft", "23 CCR 492.7", "(a)(1)(T)", "read"),
    ("california-landscape", "overhead_setback", "24 in", "23 CCR 492.7", "(a)(1)(U)", "read"),
    ("california-landscape", "steep_slope", "25 %", "23 CCR 492.7", "(a)(1)(V)", "read"),
    ("california-landscape", "steep_rate", "0.75 in/h", "23 CCR 492.7", "(a)(1)(V)", "read"),
    # The ordinance's inspection checklist: a flow sensor from 5,000 sq ft.
    ("california-landscape", "flow_sensor_area", "5000 sqft", "23 CCR 492.7", "checklist", "restated"),
    # Los Angeles irrigation plan notes: a sleeve twice the size of its pipe.
    ("model-us", "sleeve_over_pipe", "200 %", "Los Angeles", "sleeves", "read"),
    ("model-us", "spacing_over_radius", "110 %", "30 TAC 344.62", "(b)(1)", "read"),
    # Velocities. Florida Building Code, Plumbing, Appendix F, Part II.F: 5 ft/s; Chicago 18-29-604.10.1.2:
    # 8 ft/s; 30 TAC 344.62(d): 5 ft/s, not read.
    ("model-us", "pvc_velocity", "5 ft/s", "Florida Building Code", "Appendix F", "read"),
    ("model-us", "metal_velocity", "8 ft/s", "Municipal Code of Chicago", "604.10.1.2", "read"),
    ("texas", "pvc_velocity", "5 ft/s", "30 TAC 344.62", "(d)", "from memory"),
    # Covers. International Plumbing Code 305.4: 6 in under frost; Shady Shores: 6 in; National Electrical
    # Code table 300.5, column 5: 6 in; UK regulations, Schedule 2, 7(4): 750 to 1350 mm.
    ("model-us", "below_frost", "6 in", "International Plumbing Code", "305.4", "restated"),
    ("model-us", "lateral_cover", "6 in", "Shady Shores", "depth", "restated"),
    ("model-us", "wire_cover", "6 in", "National Electrical Code", "300.5", "restated"),
    ("texas", "pipe_cover", "6 in", "30 TAC 344.62", "(l)", "restated"),
    ("uk-garden", "least_cover", "750 mm", "Water Fittings", "7(4)", "restated"),
    ("uk-garden", "most_cover", "1350 mm", "Water Fittings", "7(4)", "restated"),
    # Pressures. International Plumbing Code 604.8: 80 psi; UK Schedule 2, 12(1): one and a half times.
    ("model-us", "static_without_regulator", "80 psi", "International Plumbing Code", "604.8", "read"),
    ("uk-garden", "test_share", "150 %", "Water Fittings", "12(1)", "read"),
    # Pass values of the Iowa City form, psid: RP check 1 5.0, relief 2.0, check 1 less relief 3.0; the other
    # checks and the air inlet of a vacuum breaker 1.0. Austin: gauge calibrated in the last 12 months.
    # Laredo 25-87: the main holds within 2 psi.
    ("model-us", "test_first_check", "5 psi", "Iowa City", "RP, check 1", "read"),
    ("model-us", "test_relief", "2 psi", "Iowa City", "relief", "read"),
    ("model-us", "test_relief_margin", "3 psi", "Iowa City", "less relief", "read"),
    ("model-us", "test_check", "1 psi", "Iowa City", "second check", "read"),
    ("model-us", "test_air_inlet", "1 psi", "Iowa City", "PVB", "read"),
    ("model-us", "gauge_age", "366 days", "City of Austin", "gauge", "read"),
    ("model-us", "pressure_test_loss", "2 psi", "Laredo", "25-87", "read"),
)


@pytest.mark.parametrize(("pack", "name", "value", "title", "section", "known"), VALUES)
def test_a_value_is_that_of_the_text_it_cites(
    pack: str, name: str, value: str, title: str, section: str, known: str
) -> None:
    limit = p.pack(pack).limit(name)
    assert limit is not None
    assert (limit.written, limit.source.verified) == (value, known)
    assert title in limit.source.title and section in limit.source.section


def test_every_number_of_a_real_place_is_held_against_its_text_or_is_trade_knowledge() -> None:
    held = {(pack, name) for pack, name, *_ in VALUES}
    for name in p.NAMES:
        pack = p.pack(name)
        for limit in () if pack.invented else pack.limits:
            told = limit.source.verified in ("common practice", "from memory") or limit.si == 0.0
            assert limit.words or told or (name, limit.name) in held, (name, limit.name)
