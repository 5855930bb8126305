"""Trench sections: one for each pairing of role and cover that the design digs, at one common scale.

Pipe and sleeve are drawn at their true outside diameters and covers; pipes that differ only in size share a
section, the largest in full and each smaller one dashed under the same cover. Trench width, bedding and
paving thickness are lettered NOT STATED where the design is silent, and drawn between break lines.
"""

from __future__ import annotations

from collections import Counter

from plangen.model.design import Design
from plangen.model.waterworks import Pipe
from plangen.sheets.details_dimensions import break_line, earth, hatched, sand, upright
from plangen.sheets.details_dug import Dug, dug, over_pipe
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import (
    NOT_STATED,
    Drawing,
    Section,
    enlarged,
    few,
    scale_text,
    section_panel,
    stated,
)
from plangen.sheets.details_sleeve import sleeve_along
from plangen.sheets.marks import XY, Area, Circle, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.pens import Lettering
from plangen.sheets.trench_kinds import Trench, trenches
from plangen.sheets.viewport import DETAIL_SCALES

ROOM_MM = 50.0  # height of the deepest section, which fixes the scale of all of them


def trench_panels(design: Design, system: str, letters: Lettering) -> tuple[Panel, ...]:
    """Return the trench sections of a design, all at the scale that the deepest one allows."""
    found = trenches(design)
    work = dug(design)
    deepest = max((_bottom(t, work) for t in found), default=0.0) + 0.12
    scales, room = DETAIL_SCALES[system], ROOM_MM * enlarged(letters.note)
    denominator = next((d for d in scales if deepest * 1000 / d <= room), scales[-1])
    plain = Counter(_title(t) for t in found)
    titles = (_title(t) + (f": {few(t.names, 3)}" if plain[_title(t)] > 1 else "") for t in found)
    return tuple(
        _trench_panel(design, t, title, denominator, system, letters.note)
        for t, title in zip(found, titles, strict=True)
    )


def _bottom(t: Trench, work: Dug) -> float:
    """Return how deep the trench's floor is drawn in metres."""
    cover = _cover(t)
    od = t.sleeve.size.od_m if t.sleeve else t.pipe.size.od_m
    return (0.3 if cover is None else cover) + od + work.bed_m


def _cover(t: Trench) -> float | None:
    if t.sleeve is not None and t.sleeve.cover is not None:
        return t.sleeve.cover.si
    if t.pipe.cover is None:
        return None
    if t.sleeve is not None:
        # the sleeve surrounds the pipe, so its top lies higher than the pipe's by half the difference
        return t.pipe.cover.si - (t.sleeve.size.od_m - t.pipe.size.od_m) / 2
    return t.pipe.cover.si


def _trench_panel(
    design: Design, t: Trench, title: str, denominator: int, system: str, height: float
) -> Panel:
    s = Section(denominator, 0.0, 0.0)
    cover = _cover(t)
    top = 0.3 if cover is None else cover
    od = t.sleeve.size.od_m if t.sleeve else t.pipe.size.od_m
    work = dug(design)
    floor = -_bottom(t, work)
    wide = work.half_m + 0.10
    y0, yb = s.at(0, 0)[1], s.at(0, floor)[1]
    marks: list[AnyMark] = [*_ground(t, s, floor, work), *_pipe_circles(t, s, top)]
    dim_x = s.at(-wide, 0)[0] - 3.0
    name = t.sleeve.name if t.sleeve else t.pipe.name
    pipe_top = -(t.pipe.cover.si if t.pipe.cover else 0.3)
    if t.pipe.cover is not None:
        y = s.at(0, pipe_top)[1]
        marks.append(Line(((dim_x - 1.5, y), (s.at(-od * 0.1, 0)[0], y)), "thin"))
        marks.append(upright(dim_x, y0, y, f"{t.pipe.cover.written}", height, "dimension-cover", t.pipe.name))
    extras, labels = _wire_and_frost(design, t, s, floor, work)
    marks.extend(extras)
    right = [*_labels(t, s, top, od, floor, work), *labels]
    reach, low = s.at(wide, 0)[0], yb + 2.0
    if t.sleeve is not None:
        along, said, across, low = sleeve_along(t.sleeve, t.pipe, top, denominator, low, dim_x, height)
        marks += along
        right += said
        reach = max(reach, across)
    extent = (dim_x - height - 1.2, y0 - 3.0, reach, low)
    at = s.at(0, -top - od / 2)
    drawing = Drawing(
        tuple(marks),
        extent,
        (),
        tuple(right),
        tuple(Noted("trench", p.role, p.name, *at) for p in (t.pipe, *(p for p, _ in t.smaller))),
        ((name, *at),),
    )
    return section_panel(
        drawing, "detail-trench", name, title, scale_text(denominator, system), height, height * 20
    )


def _title(t: Trench) -> str:
    if t.sleeve is not None:
        what = "SLEEVE" if len(t.sleeves) == 1 else "SLEEVES"
        return f"{what} {few(t.sleeves, 3)} UNDER {t.sleeve.under.upper()}"
    size = "" if t.smaller else f" {t.pipe.nominal.written}"
    return f"TRENCH: {t.pipe.role.upper()}{size}, COVER {stated(t.pipe.cover)}"


def _ground(t: Trench, s: Section, floor: float, work: Dug) -> tuple[AnyMark, ...]:
    wide = work.half_m + 0.10
    x_l, x_r = s.at(-work.half_m, 0)[0], s.at(work.half_m, 0)[0]
    y0, yb = s.at(0, 0)[1], s.at(0, floor)[1]
    y_bed = s.at(0, floor + work.bed_m)[1]
    left, right = s.at(-wide, 0)[0], s.at(wide, 0)[0]
    out: list[AnyMark] = [
        Group("bedding", (sand(x_l, y_bed, x_r, yb), Line(((x_l, y_bed), (x_r, y_bed)), "thin"))),
        Group("trench", (Line(((x_l, y0), (x_l, yb), (x_r, yb), (x_r, y0)), "outline"),)),
    ]
    if t.sleeve is not None:
        band = s.at(0, -0.10)[1]
        out.append(
            Group(
                "paving",
                (
                    Area(((left, y0), (right, y0), (right, band), (left, band)), "outline", "white"),
                    hatched(left, y0, right, band, 2.0),
                    break_line(x_l - 3.5, x_l + 3.5, (y0 + band) / 2),
                ),
                t.sleeve.under,
            )
        )
    out.append(Group("grade-line", (Line(((left, y0), (right, y0)), "earth"),), title="Finished grade"))
    if t.sleeve is None:
        out.append(Group("earth", (earth(left - 1.0, x_l + 4.0, y0), earth(x_r - 1.0, right + 1.5, y0))))
    return tuple(out)


def _pipe_circles(t: Trench, s: Section, top: float) -> tuple[AnyMark, ...]:
    out: list[AnyMark] = []
    if t.sleeve is not None:
        size = t.sleeve.size
        centre = s.at(0, -top - size.od_m / 2)
        outer, inner = size.od_m / 2 * s.per_m, size.bore_m / 2 * s.per_m
        out.append(
            Group(
                "sleeve",
                (Circle(centre, outer, "outline", "white"), Circle(centre, inner, "thin", "white")),
                t.sleeve.name,
            )
        )
    pipe = t.pipe.size
    centre = _centre(t.pipe, s)
    out.append(
        Group(
            "pipe",
            (
                Circle(centre, pipe.od_m / 2 * s.per_m, "outline", "grey"),
                Circle(centre, pipe.bore_m / 2 * s.per_m, "thin", "white"),
            ),
            t.pipe.name,
            f"Pipe {t.pipe.name}",
        )
    )
    for other, _ in t.smaller:
        ring = Circle(_centre(other, s), other.size.od_m / 2 * s.per_m, "thin-dash", "none")
        out.append(Group("pipe", (ring,), other.name, f"Pipe {other.name}"))
    return tuple(out)


def _centre(pipe: Pipe, s: Section) -> XY:
    """Return the axis of a pipe on paper; where no cover is stated it stands at a stand-in."""
    return s.at(0.0, -(pipe.cover.si if pipe.cover else 0.3) - pipe.size.od_m / 2)


def _labels(t: Trench, s: Section, top: float, od: float, floor: float, work: Dug) -> list[Label]:
    pipe, sleeve = t.pipe, t.sleeve
    x, y = _centre(pipe, s)
    cover = "" if pipe.cover else f", COVER {NOT_STATED}, DEPTH NOT TO SCALE"
    out = [
        Label(
            (x + pipe.size.od_m / 2 * s.per_m, y),
            f"{few(t.names)}: {pipe.nominal.written} {pipe.size.family}{cover}",
            pipe.name,
        )
    ]
    for other, names in t.smaller:
        radius, (x, y) = other.size.od_m / 2 * s.per_m, _centre(other, s)
        words = f"{few(names)}: {other.nominal.written} {other.size.family}, DASHED"
        out.append(Label((x + radius * 0.7, y + radius * 0.7), words, other.name))
    if sleeve is not None:
        at = s.at(sleeve.size.od_m * 0.35, -top - od * 0.86)
        text = f"SLEEVE {few(t.sleeves, 3)}, {sleeve.size.nominal} {sleeve.size.family}"
        out.append(Label(at, text, sleeve.name))
        out.append(
            Label(
                s.at(work.half_m * 0.8, -0.05), f"PAVING {sleeve.under}, THICKNESS {NOT_STATED}", sleeve.under
            )
        )
    else:
        out.append(Label(s.at(work.half_m * 0.6, -top * 0.30), "COMPACT IN LAYERS AFTER INSPECTION"))
    out.append(Label(s.at(work.half_m * 0.6, -top * 0.82), "STONE-FREE SOIL BY HAND"))
    out.append(Label(s.at(work.half_m * 0.6, floor + work.bed_m / 2), work.bedding))
    out.append(Label(s.at(work.half_m, floor * 0.62), work.width))
    return out


def _wire_and_frost(
    design: Design, t: Trench, s: Section, floor: float, work: Dug
) -> tuple[tuple[AnyMark, ...], list[Label]]:
    marks: list[AnyMark] = []
    labels: list[Label] = []
    wide = work.half_m + 0.10
    control, frost = design.control, design.site.frost_depth
    if t.pipe.role == "mainline" and t.sleeve is None and control is not None and control.wire:
        if control.wire_cover is not None:
            at = s.at(work.half_m * 0.72, -control.wire_cover.si)
            if control.wire_cover.si < -floor:
                marks.append(
                    Group("wire", (Circle(at, 0.7, "outline", "black"),), control.name, "Control wire")
                )
                labels.append(
                    Label(at, f"WIRE {control.name}, COVER {control.wire_cover.written}", control.name)
                )
            else:
                labels.append(
                    Label(s.at(wide, floor), f"WIRE COVER {control.wire_cover.written}: BELOW THIS VIEW")
                )
        else:
            labels.append(
                Label(s.at(work.half_m * 0.72, floor * 0.5), f"WIRE COVER {NOT_STATED}", control.name)
            )
    if t.pipe.role != "lateral":
        wire = control.wire_cover if control else None
        taken = [q.si for q in (frost, wire) if q is not None] or [0.0]
        taped, label = over_pipe(work, t.pipe.cover, s, floor, taken)
        marks += taped
        labels.append(label)
    if frost is not None and frost.si < -floor + 0.2:
        y = s.at(0, -frost.si)[1]
        line = Line(((s.at(-wide, 0)[0], y), (s.at(wide, 0)[0], y)), "centre")
        marks.append(Group("frost-line", (line,), title="Frost depth"))
        labels.append(Label((s.at(wide, 0)[0], y), f"FROST DEPTH {frost.written}"))
    return tuple(marks), labels
