"""Plan symbols from plain geometry, each with the letter code that always stands beside it.

No standard covers irrigation symbols and practice varies, so every set has a legend and nothing depends
on shape alone. Shapes follow common practice of piping drawings: opposed triangles for valves, an open and
a filled triangle in flow order for a check.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from plangen.model.waterworks import Device
from plangen.sheets import ground_symbols as ground
from plangen.sheets.marks import XY, Arc, Area, Circle, Group, Line, Text
from plangen.sheets.shapes import rectangle, regular, turned

Shape = Line | Area | Circle | Arc | Text
Draw = Callable[[float], tuple[Shape, ...]]


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol: its letter code, what it stands for, and its shape about the origin, flow to the right.

    `draw` takes the half size in mm.
    """

    code: str
    words: str
    draw: Draw


def symbol(kind: str, x: float, y: float, size: float, turn_deg: float = 0.0, object: str = "") -> Group:
    """Return a symbol of half size `size` at (x, y), its flow turned clockwise from paper right.

    Raises KeyError for a kind that has no symbol.
    """
    found = SYMBOLS[kind]
    marks = tuple(_placed(m, x, y, turn_deg) for m in found.draw(size))
    return Group(f"symbol-{kind}", marks, object, f"{object} {found.words}".strip())


def head_symbol(
    kind: str, x: float, y: float, size: float, arc: tuple[float, float] | None, object: str
) -> Group:
    """Return a head's symbol with the filled sector of its arc (paper bearings; None: arc not known)."""
    base = symbol(kind, x, y, size, 0.0, object)
    if arc is None:
        return base
    start, end = arc
    reach = size * 0.72
    full = abs((end - start) % 360.0) < 1e-6
    sector: Shape = (
        Circle((x, y), reach, "", "black")
        if full
        else Arc((x, y), reach, start, end, "", "black", closed=True)
    )
    return Group(base.role, (*base.marks, sector), object, base.title)


def symbol_kind(device: Device) -> str:
    """Return the symbol kind of a device: assemblies, isolation and drip valves have one for each sort."""
    if device.kind == "assembly":
        kind = f"assembly-{device.assembly_kind}"
        return kind if kind in SYMBOLS else "assembly"
    if device.kind == "isolation":
        words = f"{device.label} {device.part.label if device.part else ''}".lower()
        return "isolation-ball" if "ball" in words else "isolation-gate" if "gate" in words else "isolation"
    return device.kind if device.kind in SYMBOLS else "device"


def _placed(mark: Shape, x: float, y: float, deg: float) -> Shape:
    """Turn a mark about the origin and move it; letters stay upright."""
    match mark:
        case Line(points, pen):
            return Line(turned(points, deg, x, y), pen)
        case Area(points, pen, fill):
            return Area(turned(points, deg, x, y), pen, fill)
        case Circle(centre, radius, pen, fill):
            return Circle(turned((centre,), deg, x, y)[0], radius, pen, fill)
        case Arc(centre, radius, start, end, pen, fill, closed):
            return Arc(turned((centre,), deg, x, y)[0], radius, start + deg, end + deg, pen, fill, closed)
        case Text():
            return Text(x + mark.x, y + mark.y, mark.text, mark.height, mark.anchor, mark.bold)


def _tri(tip: XY, base_x: float, half: float, fill: str) -> Area:
    return Area((tip, (base_x, -half), (base_x, half)), "symbol", fill)


def _bow(s: float, left: str = "white", right: str = "white", k: float = 1.0) -> tuple[Area, Area]:
    return _tri((0, 0), -s * k, s * 0.6 * k, left), _tri((0, 0), s * k, s * 0.6 * k, right)


def _letters(s: float, text: str) -> Text:
    # at the usual half size of 1.6 mm this is the floor of the smallest sheets
    height = s * 1.25
    return Text(0.0, height / 2, text, height, "middle", True)


def _ring(s: float, fill: str = "white") -> Circle:
    return Circle((0.0, 0.0), s, "symbol", fill)


def _square(s: float, fill: str = "white") -> Area:
    return Area(rectangle(-s, -s, s, s), "symbol", fill)


def _round(letter: str) -> Draw:
    return lambda s: (_ring(s), _letters(s, letter))


def _checks(s: float, x: float) -> tuple[Area, Area]:
    """One check: open then filled triangle in flow order, centred at x."""
    w = s * 0.38
    return (
        Area(((x - w, -w), (x - w, w), (x, 0.0)), "symbol-thin", "white"),
        Area(((x + w, -w), (x + w, w), (x, 0.0)), "symbol-thin", "black"),
    )


def _body(s: float) -> Area:
    return Area(rectangle(-1.5 * s, -0.75 * s, 1.5 * s, 0.75 * s), "symbol", "white")


def _rp(s: float) -> tuple[Shape, ...]:
    drain = Line(((0.0, 0.0), (0.0, 1.4 * s)), "symbol")
    return (
        _body(s),
        *_checks(s, -0.75 * s),
        *_checks(s, 0.75 * s),
        drain,
        Circle((0, 1.4 * s), 0.2 * s, "", "black"),
    )


def _dc(s: float) -> tuple[Shape, ...]:
    return _body(s), *_checks(s, -0.75 * s), *_checks(s, 0.75 * s)


def _vent(s: float) -> tuple[Shape, ...]:
    return (
        Line(((0.0, -0.75 * s), (0.0, -1.5 * s)), "symbol"),
        Area(((0.0, -1.9 * s), (-0.35 * s, -1.3 * s), (0.35 * s, -1.3 * s)), "", "black"),
    )


def _pvb(s: float) -> tuple[Shape, ...]:
    return _body(s), *_checks(s, 0.0), *_vent(s)


def _svb(s: float) -> tuple[Shape, ...]:
    return *_pvb(s), Line(((-0.7 * s, -1.15 * s), (0.7 * s, -1.15 * s)), "symbol")


def _avb(s: float) -> tuple[Shape, ...]:
    return Arc((0.0, 0.2 * s), s, 270, 90, "symbol", "white", closed=True), *_vent(s)


def _db(s: float) -> tuple[Shape, ...]:
    return Area(((-0.7 * s, -0.5 * s), (0.7 * s, -0.5 * s), (0.0, s)), "symbol", "white"), *_vent(s)


def _air_gap(s: float) -> tuple[Shape, ...]:
    cup = ((-s, 0.2 * s), (-s, s), (s, s), (s, 0.2 * s))
    return Line(((0.0, -s), (0.0, -0.3 * s)), "symbol"), Line(cup, "symbol")


def _tap(s: float) -> tuple[Shape, ...]:
    return Circle((0, 0), s, "symbol", "white"), Circle((0, 0), 0.5 * s, "", "black")


def _ball(s: float) -> tuple[Shape, ...]:
    return *_bow(s), Circle((0, 0), 0.32 * s, "symbol", "black")


def _gate(s: float) -> tuple[Shape, ...]:
    return *_bow(s), Line(((0.0, -0.75 * s), (0.0, 0.75 * s)), "symbol")


def _strainer(s: float) -> tuple[Shape, ...]:
    return (
        _square(0.9 * s),
        Line(((-0.5 * s, -0.5 * s), (0.0, 0.0), (0.5 * s, -0.5 * s)), "symbol"),
        Line(((0.0, 0.0), (0.0, 0.65 * s)), "symbol"),
    )


def _regulator(s: float) -> tuple[Shape, ...]:
    return *_bow(s), Arc((0.0, -0.35 * s), 0.6 * s, 270, 90, "symbol", "white", closed=True)


def _valve(s: float, left: str = "white") -> tuple[Shape, ...]:
    return _ring(s), *_bow(s, left, k=0.8)


def _master(s: float) -> tuple[Shape, ...]:
    return _ring(s), *_bow(s, "black", "black", k=0.8)


def _drain(s: float) -> tuple[Shape, ...]:
    return (
        _ring(0.8 * s),
        Line(((0.0, -0.5 * s), (0.0, 0.5 * s)), "symbol"),
        Area(((0.0, 0.7 * s), (-0.3 * s, 0.15 * s), (0.3 * s, 0.15 * s)), "", "black"),
    )


def _blow_out(s: float) -> tuple[Shape, ...]:
    return (
        _ring(0.8 * s),
        Line(((-0.5 * s, 0.3 * s), (0.5 * s, 0.3 * s)), "symbol"),
        Line(((0.0, 0.3 * s), (0.0, -0.5 * s)), "symbol"),
    )


def _pump(s: float) -> tuple[Shape, ...]:
    return _ring(s), Area(((-0.5 * s, -0.85 * s), (-0.5 * s, 0.85 * s), (s, 0.0)), "symbol", "black")


def _tee(s: float) -> tuple[Shape, ...]:
    return (Circle((0, 0), 0.38 * s, "", "black"),)


def _coupler(s: float) -> tuple[Shape, ...]:
    return (
        _ring(s),
        Arc((0, 0), s, 0, 90, "", "black", closed=True),
        Arc((0, 0), s, 180, 270, "", "black", closed=True),
    )


def _controller(s: float) -> tuple[Shape, ...]:
    return _square(s), Area(((-s, s), (s, -s), (s, s)), "", "black")


def _house(s: float) -> tuple[Shape, ...]:
    return (Area(((-s, s), (-s, -0.2 * s), (0.0, -s), (s, -0.2 * s), (s, s)), "symbol", "white"),)


def _box(s: float) -> tuple[Shape, ...]:
    return (Area(rectangle(-1.35 * s, -1.35 * s, 1.35 * s, 1.35 * s), "hidden", "none"),)


SYMBOLS: dict[str, Symbol] = {
    "source": Symbol(
        "SRC", "Source: street main, where the pressure is known", lambda s: (_ring(s, "black"),)
    ),
    "meter": Symbol("WM", "Water meter", _round("M")),
    "tap": Symbol("POC", "Point of connection: tap on the house service", _tap),
    "house": Symbol("HSE", "House service entry", _house),
    "isolation": Symbol("IV", "Isolation valve", _bow),
    "isolation-ball": Symbol("BV", "Isolation valve, ball", _ball),
    "isolation-gate": Symbol("GV", "Isolation valve, gate", _gate),
    "assembly": Symbol(
        "BFA", "Backflow prevention assembly, kind not given", lambda s: (_body(s), _letters(s, "?"))
    ),
    "assembly-rp": Symbol("RP", "Reduced-pressure principle assembly", _rp),
    "assembly-dc": Symbol("DC", "Double check valve assembly", _dc),
    "assembly-pvb": Symbol("PVB", "Pressure vacuum breaker assembly", _pvb),
    "assembly-svb": Symbol("SVB", "Spill-resistant vacuum breaker assembly", _svb),
    "assembly-avb": Symbol("AVB", "Atmospheric vacuum breaker", _avb),
    "assembly-db": Symbol("DB", "Pipe interrupter, type DB", _db),
    "assembly-air-gap": Symbol("AG", "Air gap", _air_gap),
    "strainer": Symbol("YS", "Strainer", _strainer),
    "regulator": Symbol("PRV", "Pressure regulator", _regulator),
    "master-valve": Symbol("MV", "Master valve", _master),
    "flow-sensor": Symbol("FS", "Flow sensor", _round("F")),
    "blow-out": Symbol("BO", "Blow-out fitting, capped", _blow_out),
    "drain": Symbol("DR", "Manual drain", _drain),
    "injector": Symbol("INJ", "Chemical injector", _round("J")),
    "pump": Symbol("PMP", "Pump", _pump),
    "tee": Symbol("T", "Tee or branch in the pipe", _tee),
    "valve": Symbol("RCV", "Remote control valve of a zone", _valve),
    "valve-drip": Symbol("RCV-D", "Remote control valve of a drip zone", lambda s: _valve(s, "black")),
    "device": Symbol("DEV", "Other fitting, named beside it", lambda s: (_square(s),)),
    "spray": Symbol("S", "Spray head; black sector: its arc; number: its throw", lambda s: (_ring(s),)),
    "rotor": Symbol(
        "R",
        "Rotor head; black sector: its arc; number: its throw",
        lambda s: (Area(regular(6, s * 1.15), "symbol", "white"),),
    ),
    "bubbler": Symbol("B", "Bubbler", lambda s: (_square(0.8 * s),)),
    "quick-coupler": Symbol("QC", "Quick coupler", _coupler),
    "controller": Symbol("C", "Controller", _controller),
    "sensor-rain": Symbol("RS", "Rain sensor", _round("R")),
    "sensor-freeze": Symbol("FZ", "Freeze sensor", _round("Z")),
    "sensor-soil": Symbol("SM", "Soil moisture sensor", _round("M")),
    "sensor-flow": Symbol("FS", "Flow sensor", _round("F")),
    "box": Symbol("VB", "Valve box around what it holds", _box),
    "grade": Symbol("EL", "Finished grade, elevation beside it", ground.grade),
    "tree": Symbol("TR", "Tree with its canopy", ground.tree),
    "septic-tank": Symbol("TNK", "Septic tank", ground.tank),
    "well": Symbol("WL", "Well", ground.well),
    "cistern": Symbol("CIS", "Cistern or rain tank", ground.cistern),
    "stake": Symbol("STK", "Stake with its number; see the table of stakes", ground.stake),
    "splice": Symbol("CW", "Splice of control wire, in a box", ground.splice),
    "expose": Symbol("XP", "Crossing of a buried line: expose it by hand first", ground.expose),
}
