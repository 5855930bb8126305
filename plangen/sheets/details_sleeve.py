"""A sleeve along its pipe at the edge of the paving: how far it goes past the edge, to scale."""

from __future__ import annotations

from plangen.model.waterworks import Pipe, Sleeve
from plangen.sheets.details_dimensions import arrow, break_line, hatched, level_across
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, Section, stated
from plangen.sheets.marks import Area, Group, Line
from plangen.sheets.panel import AnyMark

_UNDER_M, _BEYOND_M = 0.20, 0.14  # how much is shown under the paving and past the sleeve's end
_STAND_IN_M = 0.30  # how far the sleeve is drawn past the edge where that is not stated
_SLAB_M = 0.10


def sleeve_along(
    sleeve: Sleeve, pipe: Pipe, top: float, denominator: int, y_above: float, x_left: float, height: float
) -> tuple[tuple[AnyMark, ...], tuple[Label, ...], float, float]:
    """Return the marks and labels of the view, and how far right and down it reaches on paper.

    `top` is the depth of the sleeve's top in metres; the view stands under `y_above`, from `x_left` on.
    """
    past = sleeve.extends.si if sleeve.extends is not None else _STAND_IN_M
    s = Section(denominator, x_left + _UNDER_M * 1000 / denominator, y_above + height * 1.5)
    z_mid = -top - sleeve.size.od_m / 2
    end = past + _BEYOND_M
    (x0, y0), (x_edge, y_slab) = s.at(-_UNDER_M, 0.0), s.at(0.0, -_SLAB_M)
    x_end = s.at(end, 0.0)[0]

    def level(x_from: float, x_to: float, radius: float, pen: str, fill: str) -> Area:
        low, high = z_mid - radius, z_mid + radius
        return Area(s.path(((x_from, low), (x_to, low), (x_to, high), (x_from, high))), pen, fill)

    slab = ((x0, y0), (x_edge, y0), (x_edge, y_slab), (x0, y_slab))
    y_dim = s.at(0.0, z_mid - sleeve.size.od_m / 2)[1] + 4.5
    marks: list[AnyMark] = [
        Group("paving", (Area(slab, "outline", "white"), hatched(x0, y0, x_edge, y_slab, 2.0)), sleeve.under),
        Group("grade-line", (Line(((x0, y0), (x_end, y0)), "earth"),), title="Finished grade"),
        Group("pipe", (level(-_UNDER_M, end, pipe.size.od_m / 2, "thin", "grey"),), pipe.name),
        Group(
            "sleeve-along", (level(-_UNDER_M, past, sleeve.size.od_m / 2, "outline", "none"),), sleeve.name
        ),
        arrow((x_end + 4.0, s.at(0.0, z_mid)[1]), 90.0, 3.5),
        break_line(x0 - 1.5, x0 + 1.5, (y0 + y_slab) / 2),
    ]
    if sleeve.extends is not None:
        x_past = s.at(past, 0.0)[0]
        marks += [
            Line(((x_edge, y_slab), (x_edge, y_dim + 1.0)), "hair"),
            Line(((x_past, s.at(0.0, z_mid)[1]), (x_past, y_dim + 1.0)), "hair"),
            level_across(
                x_edge, x_past, y_dim, sleeve.extends.written, height, "dimension-extends", sleeve.name
            ),
        ]
    labels = (
        Label((x_edge, y0 + 1.0), f"EDGE OF {sleeve.under}"),
        Label(
            s.at(past, z_mid),
            f"END {stated(sleeve.extends)} PAST THE EDGE, SEALED, MARKED AT GRADE"
            if sleeve.extends is not None
            else f"REACH PAST THE EDGE {NOT_STATED}; NOT TO SCALE",
        ),
    )
    return tuple(marks), labels, x_end + 5.0, y_dim + 3.0
