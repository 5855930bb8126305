"""The control wire on a plan: drawn where it leaves the main's trench, and where it may be spliced."""

from __future__ import annotations

from plangen.layout.wire import WIRED_KINDS, measure_wire
from plangen.model.design import Design
from plangen.sheets.canvas import Canvas, Want
from plangen.sheets.marks import Circle, Group, Line
from plangen.sheets.panel import AnyMark
from plangen.sheets.plan_labels import put_along
from plangen.sheets.symbols import symbol

SPLICE_SIZE = 0.75
_BESIDE = 2.7  # mm from the middle of a device to its splice mark: at the corner of its box


def draw_wire(canvas: Canvas, design: Design) -> None:
    """Draw the wire from the controller to the main, and the splices. Call before labels are placed."""
    wiring, control = measure_wire(design), design.control
    if wiring is None or control is None:
        return
    for a, b in wiring.leads:
        for piece in canvas.path((a, b)):
            marks: tuple[AnyMark, ...] = (Line(piece, "wire"), Circle(piece[-1], 0.4, "", "black"))
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


def letter_wire(canvas: Canvas, design: Design) -> None:
    """Letter the wire along its way from the controller."""
    wiring, control = measure_wire(design), design.control
    if wiring is None or control is None or not wiring.leads:
        return
    pieces = canvas.path(wiring.leads[0])
    if pieces:
        height = canvas.letters.note
        (ax, ay), (bx, by) = pieces[0][0], pieces[0][-1]
        middle = ((ax + bx) / 2, (ay + by) / 2)
        want = Want("wire", "wire", ("CW, way by installer",), middle, 0.5, height, 1.6, dot=True)
        put_along(canvas, want, pieces, 0.6)


def spliced(design: Design) -> tuple[str, ...]:
    """Return the wired devices in boxes: the only places where the wire may be spliced."""
    return tuple(
        d.name for d in design.devices_of(*WIRED_KINDS) if d.in_box and d.state in ("new", "relocated")
    )


def wire_note(design: Design) -> str:
    """Return what is said of the wire under the plan, or nothing."""
    control = design.control
    if control is None or not control.wire:
        return ""
    boxes = ", ".join(spliced(design))
    where = f" Splices only in the boxes of {boxes}, waterproof." if boxes else ""
    return f"Control wire {control.wire}: in the main's trench; drawn (CW) where it leaves it.{where}"
