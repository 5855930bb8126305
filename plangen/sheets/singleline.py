"""The single-line diagram: source to farthest head, drawn to elevation, each node with its pressure.

Across the sheet nodes stand evenly, so only the upright direction has a scale: pipe runs level, and what it
rises or falls stands upright at its end. Figures are the solved ones.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from plangen.hydraulics.results import CaseResult, Hydraulics
from plangen.model.design import Design
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import told
from plangen.quantity.quantity import si_to
from plangen.sheets.details_dimensions import arrow
from plangen.sheets.details_section import elevation
from plangen.sheets.font import text_width_mm
from plangen.sheets.hydraulic_rows import pressure, unit_of
from plangen.sheets.hydraulics_sheet import worst_case
from plangen.sheets.marks import XY, Area, Circle, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted, Panel
from plangen.sheets.paragraphs import notes_panel
from plangen.sheets.pens import lettering
from plangen.sheets.profile import not_solved
from plangen.sheets.profile_plot import steps
from plangen.sheets.shapes import rectangle
from plangen.sheets.singleline_path import Flows, PathNode, farthest_outlet, path_to
from plangen.sheets.singleline_tags import tagged
from plangen.sheets.symbols import SYMBOLS, symbol, symbol_kind
from plangen.terrain.surface import Surface

SYMBOL_MM = 2.0
BRANCH_MM = 3.6  # across and down: the arrow of water that leaves the way here


def singleline_panels(
    design: Design,
    surface: Surface,
    hydraulics: Hydraulics,
    system: str,
    family: str,
    room: tuple[float, float],
    note: float = 0.0,
) -> tuple[Panel, ...]:
    """Return the diagram of the worst case in as many strips as the room asks, or why there is none."""
    height = note or lettering(family).note
    case = worst_case(hydraulics)
    far = None if case is None else farthest_outlet(case)
    path = () if case is None or far is None else path_to(Flows.of(case.solution), far[1])
    if case is None or far is None or len(path) < 2:
        return (
            notes_panel("Single-line diagram", not_solved(hydraulics), min(room[0], 150.0), height, False),
        )
    left = height * 9.0
    free = room[0] - left - height * 5.0
    pitch = max(height * 4.4, min(height * 11.0, free / (len(path) - 1)))
    most = max(3, int(free / pitch + 1e-6) + 1)
    strips = _strips(path, most)
    # one strip takes the sheet; of several, two stand over one another
    tall = room[1] if len(strips) == 1 else max(150.0, room[1] / 2 - height * 8.0)
    return tuple(
        _strip_panel(design, case, far[0], strip, i, len(strips), system, height, pitch, left, tall)
        for i, strip in enumerate(strips)
    )


def _strips(path: Sequence[PathNode], most: int) -> tuple[tuple[PathNode, ...], ...]:
    """Cut a long way into strips; each begins with the node that ended the one before."""
    out, start = [], 0
    while start < len(path) - 1:
        out.append(tuple(path[start : start + most]))
        start += most - 1
    return tuple(out)


def _strip_panel(
    design: Design,
    case: CaseResult,
    outlet: str,
    strip: Sequence[PathNode],
    index: int,
    count: int,
    system: str,
    height: float,
    pitch: float,
    left: float,
    tall: float,
) -> Panel:
    nodes = tagged([_node_words(p, system) for p in strip], pitch, height)
    links = tagged([_link_words(p, system) for p in strip[1:]], pitch, height)
    band, over = nodes.tall + 3.0, links.tall + height * 2.5
    unit = unit_of(Dimension.LENGTH, system)
    levels = [si_to(p.node.elevation_m, Dimension.LENGTH, unit) for p in strip]
    ticks = steps(min(levels), max(levels), 5)
    top, bottom = over + 4.0 + height * 2.0, tall - band - 4.0
    xs = [left + i * pitch for i in range(len(strip))]
    right = max(xs[-1] + height * 5.0, left + text_width_mm(_key(case, system), height) + 1.0)

    def y(level: float) -> float:
        return bottom - (level - ticks[0]) / (ticks[-1] - ticks[0]) * (bottom - top)

    on = [(x, y(v)) for x, v in zip(xs, levels, strict=True)]
    marks: list[AnyMark] = []
    for t in ticks:
        marks.append(Line(((left - 3.0, y(t)), (right, y(t))), "grid"))
        marks.append(Text(left - 4.0, y(t) + height / 2, f"{t:g} {unit}", height, "end"))
    marks.append(Text(height * 1.2, (top + bottom) / 2, "ELEVATION", height, "middle", True, -90.0))
    drawn: list[Noted] = [Noted("diagram", "single-line", "", left, top)]
    for i, p in enumerate(strip[1:]):
        link_marks, noted = _link(design, p, on[i], on[i + 1])
        x, level = (on[i][0] + on[i + 1][0]) / 2, max(on[i][1], on[i + 1][1])
        lead = Line(((x, over + 1.0 - links.reach(i)), (x, level)), "hair")
        words = links.marks(i, x, over, below=False)
        marks.append(Group("link", (lead, *link_marks, *words), noted.object))
        drawn.append(noted)
    for i, (p, at) in enumerate(zip(strip, on, strict=True)):
        marks.append(
            _node(p, at, nodes.marks(i, at[0], bottom + 3.0, below=True), bottom + 2.0 + nodes.reach(i))
        )
        drawn.append(Noted("label", "node", p.node.id, *at))
    part = f", PART {index + 1} OF {count}" if count > 1 else ""
    title = f"SINGLE-LINE DIAGRAM, CASE {case.case}, TO FARTHEST OUTLET {outlet}{part}"
    marks.append(Text(left, height * 1.2, _key(case, system), height))
    return Panel(Group("single-line", tuple(marks), title=title), tuple(drawn), right, tall, title, "")


def _key(case: CaseResult, system: str) -> str:
    text = "UPRIGHT TO SCALE, ACROSS NOT TO SCALE. SLANTED ARROW: WATER TO A BRANCH."
    if case.budget is not None:
        text += f" WORST OUTLET {case.budget.outlet}: {_pressure(case.budget.available_m, system)}."
    return text


def _pressure(head_m: float, system: str) -> str:
    """A pressure to the hundredth, as the budget and the profile tell it, so that a reader can trace it."""
    return f"{pressure(head_m, system)} {unit_of(Dimension.PRESSURE, system)}"


def _place_words(node: str) -> str:
    """Return what a crew calls a node: `BF1 INLET`, `ON L33` where heads stand along a pipe, `L33 END`."""
    *_, owner, last = ("", *node.split("."))
    if last in ("in", "out"):
        return f"{owner} {last.upper()}LET"
    if last == "end":
        return f"{owner} END"
    return f"ON {owner}" if last.isdigit() else last


def _node_words(p: PathNode, system: str) -> tuple[str, ...]:
    words = [
        _place_words(p.node.id),
        f"EL {elevation(p.node.elevation_m, system)}",
        _pressure(p.pressure_m, system),
    ]
    branches = sorted({b.link.object or b.link.id for b in p.branches})
    if branches:
        words.append(f"ALSO TO {', '.join(branches)}")
    if p.node.demand_m3s > 0:
        words.append(f"DRAWS {told(p.node.demand_m3s, Dimension.FLOW, system)}")
    return tuple(words)


def _link_words(p: PathNode, system: str) -> tuple[str, ...]:
    if p.via is None:
        return ()
    link = p.via.link
    flow = told(abs(p.via.flow_m3s), Dimension.FLOW, system)
    what = "GAIN" if link.kind == "pump" else "LOSS"
    return (link.object or link.id, flow, f"{what} {_pressure(abs(p.via.headloss_m), system)}")


def _node(p: PathNode, at: XY, words: Sequence[AnyMark], foot: float) -> Group:
    """Return a node's dot, the thin line down to its lettering, the lettering, its branches."""
    x, y = at
    marks: list[AnyMark] = [Line(((x, y), (x, foot)), "hair"), Circle(at, 0.8, "thin", "black"), *words]
    if p.branches or p.node.demand_m3s > 0:
        marks.append(arrow((x + BRANCH_MM, y + BRANCH_MM), 135.0, BRANCH_MM * math.sqrt(2)))
    return Group("node", tuple(marks), p.node.id, f"Node {p.node.id}")


def _link(design: Design, p: PathNode, a: XY, b: XY) -> tuple[tuple[AnyMark, ...], Noted]:
    """Return a pipe's line or a device's symbol between two nodes.

    A pipe runs level at the lower of its ends and stands upright at the higher one.
    """
    assert p.via is not None
    link = p.via.link
    low = max(a[1], b[1])
    mid = ((a[0] + b[0]) / 2, low)
    device = design.device(link.object)
    way = tuple(dict.fromkeys((a, (a[0], low), (b[0], low), b)))
    marks: list[AnyMark] = [Line(way, "mainline" if link.kind == "pipe" else "medium")]
    kind = "pipe"
    if device is not None:
        kind = symbol_kind(device)
        marks.append(symbol(kind, *mid, SYMBOL_MM, 0.0, device.name))
    elif link.kind != "pipe" and "device" in SYMBOLS:
        marks.append(Area(rectangle(mid[0] - 1, mid[1] - 1, mid[0] + 1, mid[1] + 1), "symbol-thin", "white"))
    return tuple(marks), Noted("symbol" if device is not None else "label", kind, link.object, *mid)
