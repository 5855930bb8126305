"""A head on its swing joint: lateral cover and pop-up to scale where stated, body a plain shape.

One panel for each distinct pairing of head kind, pop-up height and cover of the lateral; where laterals
differ in size, the largest is drawn and each is lettered with its heads.
"""

from __future__ import annotations

from collections.abc import Mapping

from plangen.model.design import Design
from plangen.model.waterworks import Head, Pipe
from plangen.sheets.details_dimensions import earth, upright
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import (
    NOT_STATED,
    NOT_TO_SCALE,
    Drawing,
    Section,
    enlarged,
    grade_line,
    scale_text,
    section_panel,
    stated,
)
from plangen.sheets.font import text_width_mm
from plangen.sheets.marks import Area, Circle, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.pens import Lettering
from plangen.sheets.procedure_fill import natural
from plangen.sheets.viewport import DETAIL_SCALES

# A body some 0.15 m long and 0.06 m across is drawn where no data sheet gives one; it is lettered so.
_BODY_M, _HALF_M = 0.15, 0.03
_HEIGHT_MM = 62.0


def head_panels(design: Design, system: str, letters: Lettering) -> tuple[Panel, ...]:
    """Return a detail for each distinct kind of head as it stands on its lateral."""
    groups: dict[tuple[str, float, float], list[Head]] = {}
    pipes = {p.name: p for p in design.pipes}

    def bore(head: Head) -> float:
        pipe = pipes.get(head.pipe)
        return pipe.size.od_m if pipe else 0.0

    for head in sorted(design.heads, key=lambda h: (-bore(h), natural(h.name))):
        if head.state in ("existing", "removed"):
            continue
        pipe = pipes.get(head.pipe)
        cover = pipe.cover.si if pipe and pipe.cover else -1.0
        pop = head.part.pop_up.si if head.part.pop_up else -1.0
        groups.setdefault((head.part.kind, round(pop, 6), round(cover, 6)), []).append(head)
    return tuple(_head_panel(design, groups[k], pipes, system, letters.note) for k in sorted(groups))


def _head_panel(
    design: Design, heads: list[Head], pipes: Mapping[str, Pipe], system: str, height: float
) -> Panel:
    head = heads[0]
    pipe = pipes.get(head.pipe)
    laterals = _laterals(heads, pipes)
    zone = design.zone(head.zone)
    pop = head.part.pop_up
    cover = pipe.cover.si if pipe and pipe.cover else None
    depth = 0.25 if cover is None else cover
    rise = pop.si if pop else 0.08
    od = pipe.size.od_m if pipe else 0.027
    scales = DETAIL_SCALES[system]
    tall = depth + od + rise + 0.12
    denominator = next((d for d in scales if tall * 1000 / d <= _HEIGHT_MM * enlarged(height)), scales[-1])
    s = Section(denominator, 0.0, 0.0)
    marks = [*_shape(s, head, pipe, depth, od, rise)]
    dim_x = s.at(-0.30, 0)[0] - 2.0
    if cover is not None and pipe is not None and pipe.cover is not None:
        y = s.at(0, -cover)[1]
        marks.append(Line(((dim_x - 1.5, y), (s.at(0.18, 0)[0], y)), "hair"))
        marks.append(
            upright(dim_x, s.at(0, 0)[1], y, pipe.cover.written, height, "dimension-cover", pipe.name)
        )
    if pop is not None:
        y = s.at(0, rise)[1]
        marks.append(Line(((dim_x - 1.5, y), (s.at(-0.012, 0)[0], y)), "hair"))
        marks.append(upright(dim_x, s.at(0, 0)[1], y, pop.written, height, "dimension-pop-up", head.name))
    wide = 0.0 if pop is None else text_width_mm(pop.written, height) + 1.5
    over = 6.0 if wide <= rise * s.per_m else wide + 2.0  # a long text stands above its dimension
    low_end = s.at(0, -depth - od)[1] + 4.0
    extent = (dim_x - height - 1.2, s.at(0, rise)[1] - over, s.at(0.36, 0)[0], low_end)
    at = s.at(0, 0)
    reach = stated(zone.swing_reach) if zone else NOT_STATED
    known = pop is not None and cover is not None
    drawing = Drawing(
        tuple(marks),
        extent,
        (),
        _labels(s, heads, pipe, laterals, depth, od, rise, reach),
        (Noted("symbol", head.part.kind, "", *at),),
    )
    lateral = f"{pipe.nominal.written} LATERAL" if pipe and len(laterals) == 1 else "LATERAL"
    title = f"{head.part.kind.upper()} HEAD ON {lateral}"
    scale = scale_text(denominator, system) if known else NOT_TO_SCALE
    return section_panel(drawing, "detail-head", "", title, scale, height, height * 20)


def _shape(s: Section, head: Head, pipe: Pipe | None, depth: float, od: float, rise: float) -> list[AnyMark]:
    low = -min(_BODY_M, depth * 0.7)
    centre = -depth - od / 2
    arm = 0.012

    def rect(x0: float, z0: float, x1: float, z1: float) -> Area:
        return Area(s.path(((x0, z0), (x1, z0), (x1, z1), (x0, z1))), "outline", "white")

    bend = ((0.0, low), (0.0, low - 0.03), (0.10, low - 0.04), (0.20, centre + 0.02), (0.20, centre))
    joint = Line(s.path(bend), "mainline")
    hole = (s.at(-0.05, 0)[0], s.at(0.05, 0)[0])
    hatch = earth(s.at(-0.30, 0)[0], s.at(0.36, 0)[0], s.at(0, 0)[1], (hole,))
    elbows = [
        Circle(s.at(*p), arm * s.per_m * 0.9, "outline", "white") for p in ((0.0, low - 0.03), (0.20, centre))
    ]
    return [
        Group("earth", (hatch,)),
        grade_line(s, -0.30, 0.36),
        Group("swing-joint", (joint, *elbows), title="Swing joint"),
        Group(
            "lateral",
            (
                Circle(s.at(0.26, centre), od / 2 * s.per_m, "outline", "white"),
                Line(s.path(((0.20, centre), (0.26 - od / 2, centre))), "mainline"),
            ),
            pipe.name if pipe else "",
        ),
        Group(
            f"head-{head.part.kind}",
            (
                rect(-_HALF_M, low, _HALF_M, -0.005),
                rect(-_HALF_M * 1.25, -0.022, _HALF_M * 1.25, 0.0),
                Area(s.path(((-0.011, 0.0), (0.011, 0.0), (0.011, rise), (-0.011, rise))), "hidden", "none"),
            ),
            head.name,
            "Head",
        ),
    ]


def _labels(
    s: Section,
    heads: list[Head],
    pipe: Pipe | None,
    laterals: Mapping[str, list[Head]],
    depth: float,
    od: float,
    rise: float,
    reach: str,
) -> tuple[Label, ...]:
    head = heads[0]
    low = -min(_BODY_M, depth * 0.7)
    sizes = [size + (f" ({_names(of)})" if len(laterals) > 1 else "") for size, of in laterals.items()]
    lateral = f"LATERAL {'; '.join(sizes) or NOT_STATED}"
    if pipe and pipe.cover is None:
        lateral += f", COVER {NOT_STATED}"
    return (
        Label(s.at(0.011, rise * 0.8), f"RISER UP WHEN RUNNING, POP-UP {stated(head.part.pop_up)}"),
        Label(s.at(_HALF_M * 1.25, -0.002), "TOP AT FINISHED GRADE WHEN DOWN, PLUMB"),
        Label(
            s.at(_HALF_M, low * 0.6),
            f"{head.part.kind.upper()} BODY, SIZE {NOT_STATED}; {_names(heads)}",
            head.name,
        ),
        Label(s.at(0.10, low - 0.04), f"SWING JOINT, REACH {reach}; SHAPE NOT TO SCALE"),
        Label(s.at(0.26 + od / 2, -depth - od / 2), lateral, pipe.name if pipe else ""),
    )


def _laterals(heads: list[Head], pipes: Mapping[str, Pipe]) -> dict[str, list[Head]]:
    """Return the sizes of lateral the heads stand on, the largest first, each with its heads."""
    found: dict[str, list[Head]] = {}
    for head in heads:
        pipe = pipes.get(head.pipe)
        if pipe is not None:
            found.setdefault(f"{pipe.nominal.written} {pipe.size.family}", []).append(head)
    return found


def _names(heads: list[Head]) -> str:
    names = sorted((h.name for h in heads), key=natural)
    return ", ".join(names) if len(names) <= 4 else f"{names[0]} TO {names[-1]} ({len(names)} HEADS)"
