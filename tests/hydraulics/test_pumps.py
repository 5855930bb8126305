"""A pump stated by its gain curve, in a design read from text, on the way to all zones.

Oracle: the line between the two points of the curve, by hand: 12 psi less a fifth of a psi for each gpm.
"""

from __future__ import annotations

import pytest

from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.quantity import si_to
from tests.hydraulics.residential import analysed_with

PUMP = (
    ("pump none", 'pump "booster behind the assembly"'),
    (
        "pipe P3 pvc-sch40 1-1/4 in, route BF1 -> N1, cover 18 in",
        "pipe P3 pvc-sch40 1-1/4 in, route BF1 -> PU1, cover 18 in\n"
        "  pump PU1 pump-1, at (23.5, 44.6), size 1 in, height 6 in\n"
        "  pipe P3b pvc-sch40 1-1/4 in, route PU1 -> N1, cover 18 in",
    ),
    (
        "part spray-15q {",
        'part pump-1 {\n  kind pump\n  label "Booster"\n  size 1 in\n'
        '  gain (0 gpm, 12 psi) (40 gpm, 4 psi)\n  from data sheet "PU-1"\n}\n\npart spray-15q {',
    ),
)


def test_a_pump_adds_what_its_curve_says_at_the_flow_through_it() -> None:
    found = analysed_with(*PUMP)
    assert not found.failures
    for case in found.cases:
        pump = case.solution.link("PU1")
        gpm = si_to(pump.flow_m3s, Dimension.FLOW, "gpm")
        psi = si_to(head_to_pressure_pa(-pump.headloss_m), Dimension.PRESSURE, "psi")
        assert psi == pytest.approx(12.0 - 0.2 * gpm, abs=1e-3)


def test_what_the_pump_is_believed_by_reaches_the_pressure_behind_it() -> None:
    weak = (*PUMP[:2], (PUMP[2][0], PUMP[2][1].replace('data sheet "PU-1"', "memory")))
    for case in analysed_with(*weak).cases:
        if case.case != "Z4":  # a regulator at work keeps it from the drip zone
            names = {
                i.name for i in case.basis.pressure(case.outlets[0].node) if not i.provenance.basis.decides
            }
            assert "gain of pump-1" in names
