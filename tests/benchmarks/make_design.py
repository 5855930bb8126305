"""Large designs as text: any number of spray heads in zones of twelve, off one branching main.

Run: `python -m tests.benchmarks.make_design HEADS > big.plan`. Everything in it is invented. The lawn is a
grid of strips; a trunk runs along its south edge, one branch goes north between every two strips, and each
zone hangs on its own valve. Sizes grow with the number of heads as a contractor's plan would: more zones,
no more heads on one valve.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
# Feet between heads, and heads of a zone: two rows of six.
SPACING, ROW, ROWS = 15, 6, 2
PER_ZONE = ROW * ROWS
STRIP_WIDE, STRIP_HIGH = 100, 32
# Where the first strip's south-west head stands: room for the house and the connection south of it.
LEFT, SOUTH = 30, 120
SPARE = 10


def design_text(heads: int, sheet: str = "arch-d") -> str:
    """Return a whole design with at least one zone and exactly that many heads."""
    zones = -(-heads // PER_ZONE)
    columns = max(1, round(math.sqrt(zones * STRIP_HIGH / STRIP_WIDE)))
    rows = -(-zones // columns)
    lines = list(_head(columns, rows, zones, sheet))
    lines += ["mainline {", *_mainline(columns, rows, zones), "}", ""]
    left = heads
    for zone in range(zones):
        lines += _zone(zone, rows, min(left, PER_ZONE))
        left -= PER_ZONE
    return "\n".join([*lines, *_control(zones), *_parts()]) + "\n"


def _corner(zone: int, rows: int) -> tuple[int, int]:
    """Return where a zone's south-west head stands, in feet."""
    return LEFT + zone // rows * STRIP_WIDE, SOUTH + zone % rows * STRIP_HIGH


def _head(columns: int, rows: int, zones: int, sheet: str) -> Iterator[str]:
    wide, high = LEFT + columns * STRIP_WIDE + SPARE, SOUTH + rows * STRIP_HIGH + SPARE
    x, y = wide - SPARE, high - SPARE
    source = (ROOT / "examples" / "residential" / "design.plan").read_text(encoding="utf-8")
    hazards = source[source.index("hazards {") : source.index("supply {")]
    yield f"""plangen 1

project "Large lawn, {zones} zones" {{
  address        "1 Long Meadow, Quillmoor"
  owner          "Odile Fenwarren"
  purveyor       "Quillmoor Water"
  preparer       "Tobin Marlesk", firm "Marlesk Garden Water", licence "QM-IR-0187", expires 2027-03-31
  jurisdiction   quillmoor
  scope          "Lawn irrigation"
  issued         2026-05-04
  sheet          {sheet}
  units          us
}}

site {{
  coordinates    ft
  north          0 deg
  street         "Long Meadow"
  datum          "assumed, south-west corner of the lot 100.0 ft"
  frost depth    10 in from standard "Quillmoor Building Ordinance 4-2"
  lot Lot        outline (0, 0) -> ({wide}, 0) -> ({wide}, {high}) -> (0, {high})
  building House "House", outline (40, 40) -> (100, 40) -> (100, 80) -> (40, 80)
  turf Lawn      "Lawn", outline ({LEFT}, {SOUTH}) -> ({x}, {SOUTH}) -> ({x}, {y}) -> ({LEFT}, {y}),
                 plant "cool-season turf", soil "loam", exposure "full sun", slope 1 %, plant factor 0.8
  grade          (-20, -20) 100.0 ft measured 2026-04-20
  grade          ({wide}, -20) 100.0 ft measured 2026-04-20
  grade          ({wide}, {high}) 102.0 ft measured 2026-04-20
  grade          (-20, {high}) 102.0 ft measured 2026-04-20
  sewer SS1      route (60, 40) -> (60, -8), depth 4 ft from standard "Quillmoor sewer card"
}}

{hazards}
supply {{
  source W1      at (8, -7), static 90 psi measured 2026-04-20,
                 lowest 85 psi from standard "Quillmoor Water pressure record 2025", depth 36 in
  service S1     copper-k 2 in, route W1 -> M1, cover 36 in, existing
  meter M1       meter-2, at (8, -1), size 2 in, height -12 in, existing
  service S2     copper-k 2 in, route M1 -> T1, cover 24 in, existing
  tap T1         "tee in the service", at 3 ft along S2 from M1, size 2 in
  service S3     copper-k 1 in, route T1 -> (8, 60) -> HS, cover 24 in, existing
  house HS       at (40, 60), demand 4 gpm
}}

connection {{
  pipe P1        copper-k 2 in, route T1 -> IV1, cover 18 in
  isolation IV1  ball-valve-2, at (10, 2), size 2 in, height -18 in, in box
  pipe P2        pvc-sch40 2-1/2 in, route IV1 -> (24, 2) -> (24, 50) -> BF1, cover 18 in
  assembly BF1   pvb-2, pvb, at (39, 50), size 2 in, critical level 40 in above grade, wall House,
                 clearance 12 in, insulation "fitted foam jacket", supports "two galvanised posts",
                 drain "spills to grade, slopes away from the wall"
}}
"""


def _mainline(columns: int, rows: int, zones: int) -> Iterator[str]:
    trunk = SOUTH - 10
    before, number = "BF1", 10

    def pipe(start: str, end: str) -> str:
        nonlocal number
        number += 1
        return f"  pipe P{number} pvc-sch40 3 in, route {start} -> {end}, cover 18 in"

    for column in range(columns):
        x = LEFT + column * STRIP_WIDE - 5
        inner = min(rows, zones - column * rows)
        if inner <= 0:
            return
        at = f"({x}, {trunk})"
        yield f"  tee NC{column} at {at}"
        yield pipe(before, f"(32, 50) -> (32, {trunk}) -> NC{column}" if column == 0 else f"NC{column}")
        before = below = f"NC{column}"
        for row in range(inner):
            zone = column * rows + row
            y = SOUTH + row * STRIP_HIGH + 7
            yield f"  tee NM{zone} at ({x}, {y})"
            yield pipe(below, f"NM{zone}")
            yield f"  pipe PV{zone} pvc-sch40 1-1/2 in, route NM{zone} -> V{zone}, cover 14 in"
            below = f"NM{zone}"


def _zone(zone: int, rows: int, heads: int) -> Iterator[str]:
    x, y = _corner(zone, rows)
    yield f'zone Z{zone} "Strip {zone}" {{'
    yield "  kind spray"
    yield "  waters Lawn"
    yield "  swing joint reach 18 in"
    yield f"  valve V{zone} valve-1, at ({x - 2}, {y + 7}), size 1-1/2 in, height -10 in, in box"
    yield f"  tee N{zone}S at ({x}, {y + 7})"
    lines = [(row, min(ROW, heads - row * ROW)) for row in range(ROWS) if heads > row * ROW]
    yield f"  lateral L{zone}V pvc-sch40 1-1/2 in, route V{zone} -> N{zone}S, cover 12 in"
    for row, count in lines:
        way = "".join(f" -> ({x + i * SPACING}, {y + row * SPACING})" for i in range(count))
        yield f"  lateral L{zone}R{row} pvc-sch40 1-1/4 in, route N{zone}S{way}, cover 12 in"
    for row, count in lines:
        for i in range(count):
            arc = "arc west to east" if row == 0 else "arc east to west"
            name, place = f"H{zone}R{row}N{i}", f"at ({x + i * SPACING}, {y + row * SPACING})"
            yield f"  head {name} spray-15h, {place}, on L{zone}R{row}, {arc}"
    yield "}"
    yield ""


def _control(zones: int) -> Iterator[str]:
    yield f"""control {{
  controller C1  at (100, 42), place "garage wall, inside", stations {zones}
  wire           "18 AWG, burial listed, one common, one spare", cover 12 in
  rain sensor RS1 place "south eave, open to the sky"
  reference et   6.5 in/month from standard "Quillmoor Climate Table 3, July"
  days           3
  window         8 h
}}
"""


def _parts() -> Iterator[str]:
    yield """part spray-15h {
  kind            spray
  label           "Pop-up spray, 15 ft half circle"
  flow            1.85 gpm at 30 psi
  radius          15 ft at 30 psi
  arc             180 deg
  pressure        25 psi to 70 psi, best 30 psi
  regulated       30 psi
  pop-up          4 in
  from            data sheet "SP-15, table 2"
}

part meter-2 {
  kind            meter
  label           "Displacement meter 2 in"
  size            2 in
  loss            (0 gpm, 0 psi) (50 gpm, 1 psi) (100 gpm, 4 psi) (160 gpm, 10 psi)
  flow range      2 gpm to 160 gpm
  from            data sheet "Meter record M-2"
}

part pvb-2 {
  kind            assembly
  label           "Pressure vacuum breaker assembly 2 in"
  assembly        pvb
  size            2 in
  loss            (0 gpm, 0 psi) (40 gpm, 3 psi) (100 gpm, 6 psi)
  flow range      0 gpm to 120 gpm
  rating          150 psi
  listing         "ASSE 1020"
  height          12 in
  length          16 in
  from            data sheet "VB-2, curve 1"
}

part ball-valve-2 {
  kind            isolation
  label           "Full-port ball valve 2 in"
  size            2 in
  minor k         0.07
  rating          200 psi
  from            data sheet "BV-2"
}

part valve-1 {
  kind            valve
  label           "Zone valve 1-1/2 in, 24 V"
  size            1-1/2 in
  loss            (0 gpm, 0 psi) (10 gpm, 1.5 psi) (40 gpm, 3 psi)
  flow range      0.25 gpm to 60 gpm
  rating          150 psi
  from            data sheet "ZV-2"
}"""


if __name__ == "__main__":
    sys.stdout.write(design_text(int(sys.argv[1]), *sys.argv[2:3]))
