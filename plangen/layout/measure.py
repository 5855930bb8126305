"""All layout facts of a design in one call. The order of the topics, and the notes that hold for all."""

from __future__ import annotations

from plangen.hydraulics.results import Hydraulics
from plangen.layout.coverage import measure_coverage
from plangen.layout.crossings import measure_crossings
from plangen.layout.heights import measure_heights
from plangen.layout.inputs import Ground
from plangen.layout.low_heads import measure_low_heads
from plangen.layout.reach import measure_reaches
from plangen.layout.results import Layout
from plangen.layout.schedule import measure_schedule
from plangen.layout.takeoff import measure_takeoff
from plangen.layout.throw import outlets_alone, throws
from plangen.layout.ties import measure_ties
from plangen.layout.trenches import measure_trenches
from plangen.layout.wire_drop import measure_wire_drops
from plangen.layout.year import measure_year
from plangen.model.design import Design

NOTES = (
    "Coverage: each head's flow falls off in a straight line from the head to its radius (common practice, "
    "no source); wind, slope and buildings in the way of the water are left out.",
    "Coverage: an area watered by several zones gets the sum of their rates, for equal run times.",
    "Coverage: the uniformity is that of this ideal pattern in still air; catch-can tests of real systems "
    "come out lower (pop-up spray typically 60 %: California State University, Fresno, Wateright).",
    "Throws: the data sheet's radius, inside the data sheet's pressure range; outside it, not known.",
    "Heights: heads at rest; a pipe's height is that of its top under the stated cover.",
    "Low heads: the top of each pipe against the lowest outlet without a check valve; how high a check valve "
    "holds is not known here; the pipe under an outlet and the rows of dripline are left out.",
    "Watering: peak month, no rain credited; rests between cycles are filled by the other zones.",
    "Takeoff: plan lengths of new pipe, each pipe's trench on its own; check quantities before ordering.",
)


def measure(design: Design, surface: Ground, hydraulics: Hydraulics) -> Layout:
    """Return all layout facts of a design, in SI."""
    outlets = outlets_alone(hydraulics)
    thrown = throws(design, outlets)
    coverage = measure_coverage(design, hydraulics, thrown, outlets)
    heights, piping = measure_heights(design, surface)
    crossings = measure_crossings(design)
    trenches = measure_trenches(design, crossings)
    schedule, window = measure_schedule(design, hydraulics, coverage)
    return Layout(
        coverage=coverage,
        reaches=measure_reaches(design, thrown),
        heights=heights,
        crossings=crossings,
        schedule=schedule,
        takeoff=measure_takeoff(design, crossings, trenches),
        notes=NOTES,
        piping=piping,
        window=window,
        trenches=trenches,
        ties=measure_ties(design),
        year=measure_year(design, hydraulics, coverage),
        wire_drops=measure_wire_drops(design),
        low_heads=measure_low_heads(design, surface),
    )
