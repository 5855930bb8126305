"""The words beside an assembly elevation: what each level, pipe and part is, and what is not stated."""

from __future__ import annotations

import itertools

from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.waterworks import Pipe
from plangen.sheets.details_assembly_figures import AssemblyFigures
from plangen.sheets.details_labels import Label, limit_room, tall
from plangen.sheets.details_section import NOT_STATED, Section, elevation, small, stated
from plangen.sheets.paragraphs import LINE
from plangen.sheets.procedure_assembly import workings

Bounds = tuple[float, float, float, float]


def left_labels(f: AssemblyFigures, s: Section, bounds: Bounds, end: float, system: str) -> tuple[Label, ...]:
    """Return the labels of the levels; they hang on the level lines' left ends."""
    work = workings(f.device.assembly_kind)
    what = work.level if work else "LEVEL"
    side = "BELOW" if f.level < 0 else "ABOVE"
    told = f"{stated(f.device.height).removeprefix('-')} {side} FINISHED GRADE AT {f.device.name}"
    if not f.level_known:
        told = f"HEIGHT ABOVE GRADE {NOT_STATED}; DRAWN NOT TO SCALE"
    name = f.device.name
    over_grade = limit_room("height_above_grade", name)
    out = [
        Label((end, s.at(0, f.level)[1]), f"{what} {told}", name, True, slot=over_grade),
        Label((end, s.at(0, 0.0)[1]), f"FINISHED GRADE AT {f.device.name}, DATUM OF THE HEIGHTS"),
    ]
    out.append(_outlet_label(f, s, bounds, end, system, what))
    if f.inlet is not None:
        x = f.axis(f.shape.inlet[0]) - 0.12
        out.append(Label(s.at(x, _centre(f.inlet)), _pipe_text(f.inlet, "FROM THE CONNECTION"), f.inlet.name))
    else:
        out.append(
            Label(s.at(f.axis(f.shape.inlet[0]), f.rise(0.0)), f"INLET PIPE {NOT_STATED}", f.device.name)
        )
    return tuple(out)


def _outlet_label(
    f: AssemblyFigures,
    s: Section,
    bounds: Bounds,
    end: float,
    system: str,
    what: str,
) -> Label:
    slot = limit_room("height_above_highest_outlet", f.device.name)
    if f.highest is None or f.highest.elevation_m is None or f.outlet_above_grade is None:
        text = f"HIGHEST OUTLET SERVED: ELEVATION {NOT_STATED}"
        return Label((end, s.at(0, min(0.0, f.level) - 0.06)[1]), text, f.device.name, slot=slot)
    shown = min(max(f.outlet_above_grade, bounds[1] + 0.03), bounds[3] - 0.03)
    text = f"HIGHEST OUTLET {f.highest.outlet} EL. {elevation(f.highest.elevation_m, system)}"
    if f.level_known:
        gap = f.level - f.outlet_above_grade
        side = "ABOVE IT" if gap >= 0 else "BELOW IT"
        text += f"; {what} {small(abs(gap), system)} {side}"
    else:
        text += f"; DISTANCE PROVIDED {NOT_STATED}"
    if shown != f.outlet_above_grade:
        text += " (LINE NOT TO SCALE: BEYOND THIS VIEW)"
    return Label((end, s.at(0, shown)[1]), text, f.highest.outlet, slot=slot)


def _pipe_text(pipe: Pipe, where: str) -> str:
    return f"{pipe.name} {pipe.nominal.written} {pipe.size.family}, COVER {stated(pipe.cover)}, {where}"


def _centre(pipe: Pipe) -> float:
    return -(pipe.cover.si if pipe.cover is not None else 0.3) - pipe.size.od_m / 2


def body_labels(
    f: AssemblyFigures, s: Section, levels: tuple[Label, ...], top: float, height: float, widest: float
) -> tuple[tuple[Label, ...], tuple[Label, ...]]:
    """Return the labels of the body's working parts: those led to the left, between the levels, and the rest.

    What lies on the inlet side is led to the left while there is room over or between the levels, so that
    no leader crosses body and wall without need.
    """
    first = height * LINE / 2
    held = sorted((n.at[1] - first, n.at[1] - first + tall(n, widest, height)) for n in levels)
    free = [[above, below] for (_, above), (below, _) in itertools.pairwise([(top, top), *held])]
    left: list[Label] = []
    right: list[Label] = []
    for near, far, inlet_side in sorted(_parts(f, s), key=lambda part: part[0].at[1]):
        size = tall(near, widest, height) + height * 0.75
        gap = next((g for g in free if g[0] <= max(near.at[1], top) <= g[1]), None) if inlet_side else None
        if gap is not None and size <= gap[1] - gap[0]:
            left.append(near)
            gap[0] += size
        else:
            right.append(far)
    return tuple(left), tuple(right)


def _parts(f: AssemblyFigures, s: Section) -> list[tuple[Label, Label, bool]]:
    """Each working part: its label as led to the inlet side and to the wall; whether it lies at the inlet."""
    name, shape = f.device.name, f.shape

    def on(x: float, z: float) -> tuple[float, float]:
        return s.at(f.axis(x), f.rise(z))

    def one(x: float, z: float, text: str) -> tuple[Label, Label, bool]:
        label = Label(on(x, z), text, name)
        return label, label, x < 0.5 and z > shape.level_z

    out = [one(v.x, v.z, f"SHUT-OFF No. {v.number}") for v in shape.shutoffs]
    if shape.cocks:
        count = len(shape.cocks)
        cocks = "TEST COCK 1" if count == 1 else f"TEST COCKS 1 TO {count}, IN FLOW ORDER"
        text = f"{cocks}, PLUGGED, FREE FOR THE TESTER"
        first, last = (Label(on(*at), text, name) for at in (shape.cocks[0], shape.cocks[-1]))
        out.append((first, last, shape.cocks[0][1] > shape.level_z))
    if shape.vent is not None:
        out.append(one(shape.vent[0], min(1.0, shape.vent[1] + 0.1), "AIR INLET, OPEN AT ALL TIMES"))
    if shape.relief is not None:
        out.append(one(*shape.relief, "RELIEF PORT, NEVER PLUGGED OR PIPED TIGHT"))
    return out


def right_labels(f: AssemblyFigures, s: Section, bounds: Bounds) -> tuple[Label, ...]:
    """Return the labels of wall, pipes and care and of the body as a whole, led from the side of the wall."""
    d = f.device
    name = d.name

    def on(x: float, z: float) -> tuple[float, float]:
        return s.at(f.axis(x), f.rise(z))

    free = limit_room("wall_clearance", name)
    wall = f"WALL OF {d.wall}" if d.wall else f"WALL {NOT_STATED}"
    out = [
        Label(
            (s.at(0.0, 0)[0], s.at(0, bounds[3])[1] + 4.0),
            f"{wall}; FOOTING DEPTH {NOT_STATED}",
            d.wall,
            slot=free,
        )
    ]
    if f.clear is None:
        out.append(Label(s.at(-0.02, f.rise(0.9)), f"{f.clear_text}; GAP DRAWN NOT TO SCALE", name))
    out.append(Label(on(0.22, 0.70), _body_text(f), name))
    if f.outlet is not None:
        x = f.axis(f.shape.outlet[0]) + 0.03
        out.append(Label(s.at(x, _centre(f.outlet)), _pipe_text(f.outlet, "TO THE ZONES"), f.outlet.name))
    out.extend(_care_labels(f, s))
    return tuple(out)


def _body_text(f: AssemblyFigures) -> str:
    d = f.device
    size = stated(d.size)
    listing = d.listing or (d.part.listing if d.part else "") or f"LISTING {NOT_STATED}"
    text = f"{d.name} {size} {ASSEMBLY_KINDS[d.assembly_kind]}, {listing}, SERIAL {d.serial or NOT_STATED}"
    text += f"; {d.detail}" if d.detail else ""
    if f.body_known and d.part and d.part.length and d.part.height:
        return (
            f"{text}; BODY {d.part.length.written} LONG, {d.part.height.written} HIGH, TURNED INTO THE VIEW"
        )
    return f"{text}; BODY SIZE {NOT_STATED}: BODY NOT TO SCALE"


def _care_labels(f: AssemblyFigures, s: Section) -> list[Label]:
    d = f.device
    out: list[Label] = []
    low = f.rise(0.0)
    post = f.axis(f.shape.outlet[0]) + 0.05
    where = s.at(f.axis(1.06), low - 0.0)
    out.append(Label(where, f"INSULATION: {d.insulation or NOT_STATED}", d.name))
    if d.enclosure:
        out.append(Label(s.at(f.axis(1.06) + 0.03, low * 0.8), f"ENCLOSURE: {d.enclosure}", d.name))
    held = low * 0.5 if low < 0.0 else max(low * 0.5, 0.04)
    out.append(Label(s.at(post, held), f"SUPPORTS: {d.supports or NOT_STATED}", d.name))
    if d.in_box:
        lid = (
            f"BOX {d.box_size or f'SIZE {NOT_STATED}'}, NOT TO SCALE; LID AT GRADE, LETTERED WITH ITS USE;"
            " FREE-DRAINING BOTTOM"
        )
        out.append(Label(s.at(f.axis(1.06), 0.01), lid, d.name))
    out.append(Label(s.at(f.axis(1.0) + 0.04, 0.0), f"DRAIN: {d.drain or NOT_STATED}", d.name))
    return out
