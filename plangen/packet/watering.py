"""The watering schedule and how evenly the ground is watered. Pure."""

from __future__ import annotations

from plangen.packet.contents import Contents
from plangen.packet.tables import NOT_KNOWN, Cell, Fact, Table
from plangen.packet.tell import Tell, basis
from plangen.quantity.dimension import Dimension


def watering_inputs(contents: Contents) -> tuple[Fact, ...]:
    """Return what the schedule rests on."""
    control = contents.design.control
    pairs = (
        ("Reference evapotranspiration", control.reference_et if control else None),
        ("Watering days a week", control.water_days if control else None),
        ("Time allowed on a day", control.window if control else None),
    )
    return tuple(Fact(label, q.written if q else "", basis(q)) for label, q in pairs)


def watering_table(contents: Contents) -> Table:
    """Return each zone's watering in the peak month."""
    tell = Tell(contents.units)
    rows = tuple(
        _row(
            s.zone,
            tell.rate(s.rate_ms),
            tell.small(s.depth_per_week_m),
            tell.minutes(s.minutes_per_week),
            NOT_KNOWN if s.cycles is None else str(s.cycles),
            tell.minutes(s.minutes_per_cycle),
            tell.volume(s.volume_per_week_m3),
        )
        for s in contents.layout.schedule
    )
    columns = ("Zone", "Rate", "Depth a week", "Time a week", "Cycles a day", "Time a cycle", "Water a week")
    note = "For the month of the reference evapotranspiration given. Set it anew as the season changes."
    return Table(
        "watering-zones", "Watering in the peak month", columns, rows, "No zone could be scheduled.", note
    )


def coverage_table(contents: Contents) -> Table:
    """Return how evenly each planting area is watered."""
    tell = Tell(contents.units)
    rows = tuple(
        _row(
            c.area,
            ", ".join(c.zones),
            tell.value(c.ground_m2, Dimension.AREA),
            tell.flow(c.flow_m3s),
            tell.rate(c.mean_rate_ms),
            tell.share(c.low_quarter),
            tell.share(c.dry_share),
        )
        for c in contents.layout.coverage
    )
    columns = (
        "Area",
        "Zones",
        "Ground",
        "Flow",
        "Mean rate",
        "Evenness (lowest quarter)",
        "Share nearly dry",
    )
    note = (
        "Summed from each head's pattern on a grid of the area, from data-sheet radii in still air."
        " The lowest quarter is the mean of the driest quarter of the ground over the mean of all of it."
    )
    return Table("coverage", "Coverage", columns, rows, "No planting area is watered.", note)


def _row(first: str, *numbers: str) -> tuple[Cell, ...]:
    return (Cell(first), *(Cell(n, number=True) for n in numbers))
