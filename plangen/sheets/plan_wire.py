"""The control wire on a plan: drawn where it lies in no pipe's trench, and where it may be spliced."""

from __future__ import annotations

import math
from itertools import pairwise

from plangen.layout.wire import WIRED_KINDS, Wiring
from plangen.model.design import Design
from plangen.quantity.dimension import Dimension
from plangen.quantity.display import told
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.marks import Circle, Group, Line
from plangen.sheets.panel import AnyMark
from plangen.sheets.plan_labels import put_along
from plangen.sheets.symbols import symbol

SPLICE_SIZE = 0.75
_BESIDE = 2.7  # mm from the middle of a device to its splice mark: at the corner of its box


def draw_wire(canvas: Canvas, design: Design, wiring: Wiring | None) -> None:
    """Draw the wire from the controller to the trenches of pipes, and the splices; before any label."""
    control = design.control
    if wiring is None or control is None:
        return
    for lead in wiring.leads:
        end = canvas.view.paper(lead[-1])
        for piece in canvas.path(lead):
            dot: tuple[AnyMark, ...] = (Circle(end, 0.4, "", "black"),) if canvas.sees(end) else ()
            marks: tuple[AnyMark, ...] = (Line(piece, "wire"), *dot)
            canvas.add("main", Group("wire", marks, control.name, f"Control wire of {control.name}"))
            canvas.space.line(piece, False)
            canvas.note("line", "wire", control.name, piece[0])
    for name in spliced(design):
        device = design.device(name)
        assert device is not None
        x, y = canvas.view.paper(device.point)
        for dx, dy in ((1, -1), (-1, -1), (1, 1), (-1, 1)):
            px, py = x + dx * _BESIDE, y + dy * _BESIDE
            box = (px - SPLICE_SIZE, py - SPLICE_SIZE, px + SPLICE_SIZE, py + SPLICE_SIZE)
            if canvas.sees((x, y)) and canvas.space.free(box):
                canvas.add("symbols", symbol("splice", px, py, SPLICE_SIZE, object=name))
                canvas.note("symbol", "splice", name, (px, py))
                canvas.space.take(box)
                break


def letter_wire(canvas: Canvas, wiring: Wiring | None) -> None:
    """Letter the wire along its way from the controller."""
    if wiring is None:
        return
    lost = any(not run.found for run in wiring.runs)
    words = "CW, way by installer" if lost else "CW"
    for lead in wiring.leads:
        pieces = canvas.path(lead)
        if pieces:
            runs = [run for piece in pieces for run in pairwise(piece)]
            (ax, ay), (bx, by) = max(runs, key=lambda r: round(math.dist(*r), 3))
            middle = ((ax + bx) / 2, (ay + by) / 2)
            want = Want("wire", "wire", (words,), middle, 0.5, canvas.letters.note, 1.6, dot=True)
            put_along(canvas, want, pieces, 0.6)


def spliced(design: Design) -> tuple[str, ...]:
    """Return the wired devices in boxes: the only places where the wire may be spliced."""
    return tuple(
        d.name for d in design.devices_of(*WIRED_KINDS) if d.in_box and d.state in ("new", "relocated")
    )


def wire_note(design: Design, wiring: Wiring | None) -> str:
    """Return what is said of the wire under the plan, or nothing."""
    control = design.control
    if control is None or not control.wire:
        return ""
    boxes = ", ".join(spliced(design))
    where = f" Splices only in the boxes of {boxes}, waterproof." if boxes else ""
    way = "in the trenches of pipes; drawn (CW) where it leaves them"
    if wiring is not None and wiring.entries:
        way = f"drawn (CW) to the trench of {' and of '.join(wiring.entries)}, then in trenches of pipes"
    if wiring is not None and wiring.paved:
        told_m = (f"{told(m, Dimension.LENGTH, design.project.units)} under {a}" for a, m in wiring.paved)
        way += f"; {', '.join(told_m)} sleeved or bored"
    return f"Control wire {control.wire}: {way}.{where}"
