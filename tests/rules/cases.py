"""Cases for the shipped packs: small changes to the residential example, and the rule each is about."""

from __future__ import annotations

Change = tuple[str, str]


def assembly_part(kind: str, listing: str) -> str:
    """Return a part of another kind of assembly, as text, before a part that the example has."""
    return f"""part other-1 {{
  kind      assembly
  label     "Another assembly 1 in"
  assembly  {kind}
  size      1 in
  loss      (0 gpm, 5 psi) (10 gpm, 6.0 psi) (20 gpm, 7.0 psi) (30 gpm, 8.5 psi)
  flow range 0 gpm to 30 gpm
  rating    175 psi
  listing   "{listing}"
  height    14 in
  length    16 in
  from      data sheet "Other-1, curve 1"
}}

part ball-valve-1 {{"""


def other_assembly(kind: str, height: str, listing: str = "ASSE 1013") -> tuple[Change, ...]:
    """Return the changes that put another assembly in the place of BF1."""
    return (
        ("assembly BF1 pvb-1, pvb,", f"assembly BF1   other-1, {kind},"),
        ("critical level 28 in above grade", height),
        ("part ball-valve-1 {", assembly_part(kind, listing)),
    )


RP = other_assembly("rp", "relief port 14 in above grade")
DC = other_assembly("dc", "height 14 in above grade", "ASSE 1015")
CHEMICALS = ("chemicals none", 'chemicals "weed-and-feed"')
SEPTIC = ("septic none", 'septic "tank in the back"')
SECOND = ("second source none", 'second source "old well"')
RECLAIMED = ("reclaimed water none", 'reclaimed water "purple pipe"')
PUMP = ("pump none", 'pump "booster"')
# An atmospheric vacuum breaker behind valve V1, and one in the place of BF1.
AVB_BEHIND_V1 = (
    (
        "pipe P1 copper-k 1 in,",
        "assembly AV1   other-1, avb, at (20, 36), size 1 in, critical level 24 in above grade, "
        'supports "post", insulation "drained", drain "to grade"\n  pipe P1        copper-k 1 in,',
    ),
    ("route V1 -> N11 -> N12", "route AV1 -> N11 -> N12"),
    ("tee N11 at", "pipe P12       pvc-sch40 1 in, route V1 -> AV1, cover 12 in\n  tee N11        at"),
    ("part ball-valve-1 {", assembly_part("avb", "ASSE 1001")),
)
AVB_FIRST = other_assembly("avb", "critical level 18 in above grade", "ASSE 1001")
REGULATOR_TO_HOUSE = (
    (
        "service S3 copper-k 1 in, route T1 -> (8, 50) -> HS",
        "regulator RG9  drip-regulator, at (8, 10), size 3/4 in, height -24 in, set 60 psi, in box\n"
        "  service S4     copper-k 1 in, route T1 -> RG9, cover 24 in, existing\n"
        "  service S3     copper-k 1 in, route RG9 -> (8, 50) -> HS",
    ),
)
MASTER_BEFORE = (
    (
        "pipe P2 pvc-sch40 1-1/4 in, route IV1 -> (24, 2) -> BF1",
        "master valve MV1 valve-m, at (14, 2), size 1 in, height -18 in, in box\n"
        "  pipe P13       pvc-sch40 1-1/4 in, route IV1 -> MV1, cover 18 in\n"
        "  pipe P2        pvc-sch40 1-1/4 in, route MV1 -> (24, 2) -> BF1",
    ),
)
MASTER_BEHIND = (
    (
        "pipe P3 pvc-sch40 1-1/4 in, route BF1 -> N1, cover 18 in",
        "master valve MV1 valve-m, at (23.5, 44.5), size 1 in, height -18 in, in box\n"
        "  pipe P13       pvc-sch40 1-1/4 in, route BF1 -> MV1, cover 18 in\n"
        "  pipe P3        pvc-sch40 1-1/4 in, route MV1 -> N1, cover 18 in",
    ),
)
MASTER_PART = (
    "part drip-filter {",
    """part valve-m {
  kind      master valve
  label     "Master valve 1 in"
  size      1 in
  loss      (0 gpm, 0 psi) (10 gpm, 1.8 psi) (20 gpm, 2.6 psi) (30 gpm, 5.0 psi)
  flow range 0.1 gpm to 30 gpm
  rating    150 psi
  from      data sheet "MV-1"
}

part drip-filter {""",
)


def recorded(readings: str, calibrated: str = "2026-01-10", result: str = "passed", more: str = "") -> Change:
    """Return the change that records a field test of BF1 with some readings."""
    return (
        "control {\n  controller C1",
        f"""records {{
  assembly test BF1, on 2026-06-03, by "Orla Teasdane", licence "QM-BT-0044", gauge "QG-118",
                 calibrated {calibrated}, {readings}, first shut-off tight, second shut-off tight, {result}
}}
{more}
control {{
  controller C1""",
    )


def pressure_tested(loss: str) -> Change:
    """Return the change that records a test of the main under pressure, shorter than the time stated."""
    return (
        "control {\n  controller C1",
        f"""procedure {{
  test pressure  100 psi
  test time      2 h
}}

records {{
  pressure test  "main", on 2026-05-28, by "Tobin Marlesk", pressure 100 psi, held 1 h, loss {loss}, passed
}}

control {{
  controller C1""",
    )


def sewer_at_tap(depth: str) -> tuple[Change, ...]:
    """Return the change that lays the sewer under pipe P1."""
    return (
        (
            "sewer SS1 route (40, 46) -> (40, -8), depth 4 ft",
            f"sewer SS1      route (9, 46) -> (9, -8), depth {depth}",
        ),
    )


def gas_under_main(depth: str) -> tuple[Change, ...]:
    """Return the change that lays the gas line across pipe P8."""
    return (
        (
            "gas G1 route (68, -8) -> (68, 50) -> (62, 50), depth 24 in",
            f"gas G1         route (18, -8) -> (18, 45), depth {depth}",
        ),
    )


# Records that several rules judge: each text is worked out once.
PVB_GOOD = (recorded("air inlet 1.6 psi, check valve 2.1 psi"),)
PVB_SHORT = (recorded("air inlet 0.9 psi, check valve 0.9 psi", "2025-05-01", "failed"),)
PVB_MOVED = (
    recorded(
        "air inlet 1.6 psi", more='\nchanges {\n  moved BF1 "1 ft east", on 2026-06-09, by "T. M."\n}\n'
    ),
)
RP_GOOD = (*RP, recorded("first check 6 psi, second check 1.9 psi, relief valve 2.4 psi"))
RP_SHORT = (*RP, recorded("first check 4.9 psi, second check 0.9 psi, relief valve 1.9 psi"))
DC_GOOD = (*DC, recorded("first check 1.4 psi, second check 1.1 psi"))
DC_SHORT = (*DC, recorded("first check 1.4 psi, second check 0.9 psi"))
MAIN_LOST = (pressure_tested("3 psi"),)
MAIN_HELD = (pressure_tested("1 psi"),)

# (rule, changes): the rule falls short for at least one object.
FALLS_SHORT: tuple[tuple[str, tuple[Change, ...]], ...] = (
    ("hazards-answered", (("septic none\n", ""),)),
    ("thermal-expansion", (*REGULATOR_TO_HOUSE, ("heater expansion ...", "heater expansion none"))),
    ("zone-protected", (("route N1 -> (12, 44)", "route IV1 -> (12, 44)"),)),
    ("assembly-accepted", DC),
    ("assembly-for-chemicals", (CHEMICALS,)),
    ("assembly-for-septic", (SEPTIC,)),
    ("assembly-for-second-source", (SECOND,)),
    ("assembly-for-reclaimed", (RECLAIMED,)),
    ("assembly-against-backpressure", (PUMP,)),
    ("double-check-hazard", (*DC, CHEMICALS)),
    ("assembly-above-outlets", (("critical level 28 in", "critical level 20 in"),)),
    ("assembly-above-piping", (("critical level 28 in", "critical level 10 in"),)),
    ("atmospheric-above-outlets", (*AVB_BEHIND_V1, ("critical level 24 in", "critical level 4 in"))),
    ("atmospheric-no-valve-downstream", AVB_FIRST),
    ("atmospheric-not-always-pressed", AVB_FIRST),
    ("rp-above-grade", other_assembly("rp", "relief port 8 in above grade")),
    ("rp-within-reach", other_assembly("rp", "relief port 54 in above grade")),
    ("rp-not-in-box", other_assembly("rp", "relief port -6 in above grade")),
    ("rp-drain", (*RP, (', drain "spills to grade, slopes away from the wall"', ""))),
    ("assembly-clearance", (("clearance 12 in", "clearance 4 in"),)),
    ("assembly-frost", ((', insulation "fitted foam jacket, vents left open"', ""),)),
    ("assembly-listed", (('listing "ASSE 1020"\n', ""),)),
    ("assembly-flow", (("flow range 0 gpm to 50 gpm", "flow range 0 gpm to 8 gpm"),)),
    ("isolation-valve", (("route T1 -> IV1", "route T1 -> TX"), ("isolation IV1 ...", "tee TX at (10, 2)"),
                         ("route IV1 -> (24, 2)", "route TX -> (24, 2)"))),
    ("isolation-reachable", (("height -18 in, in box", "height -18 in"),)),
    ("master-valve-downstream", (*MASTER_BEFORE, MASTER_PART)),
    ("main-cover", (("route N1 -> V4, cover ...", "route N1 -> V4, cover 11 in"),)),
    ("lateral-cover", (("route N12 -> N13, cover ...", "route N12 -> N13, cover 7 in"),)),
    ("frost-cover", (("route T1 -> IV1, cover 18 in", "route T1 -> IV1, cover 15 in"),)),
    ("sleeve-under-paving", (("sleeve SL2 ...", ""),)),
    ("sleeve-size", (("sleeve SL1 pvc-sch40 2-1/2 in", "sleeve SL1 pvc-sch40 2 in"),)),
    ("sleeve-extends", (("extends ...\n  assembly", "extends 11 in\n  assembly"),)),
    ("plastic-velocity", (("pipe P5 pvc-sch40 1 in", "pipe P5 pvc-sch40 3/4 in"),)),
    ("metal-velocity", (("pipe P1 copper-k 1 in", "pipe P1 copper-k 3/4 in"),)),
    ("pipe-rating", (("static 64 psi", "static 190 psi"), ("pipe P8 pvc-sch40", "pipe P8 pvc-sdr26"))),
    ("static-pressure", (("static 64 psi", "static 84 psi"),)),
    ("pressure-measured", (("static 64 psi measured 2026-04-20", "static 64 psi"),)),
    ("sewer-separation", sewer_at_tap("20 in")),
    ("gas-separation", gas_under_main("20 in")),
    ("meter-capacity", (("flow range 0.5 gpm to 30 gpm", "flow range 0.5 gpm to 15 gpm"),)),
    ("meter-share", (("flow range 0.5 gpm to 30 gpm", "flow range 0.5 gpm to 20 gpm"),)),
    ("valve-flow", (("flow range 0.25 gpm to 30 gpm", "flow range 0.25 gpm to 10 gpm"),)),
    ("valve-reachable", (("height -10 in, in box\n  tee N11", "height -10 in\n  tee N11"),)),
    ("zone-solved", (("static 64 psi measured ..., depth", "depth"),)),
    ("zone-one-kind", (("head H16 spray-15q", "head H16 rotor-30q"),)),
    ("zone-one-planting", (("Front\n  swing joint ...\n  valve V1", "Front, Border\n  valve V1"),)),
    ("heads-match-zone", (("head H16 spray-15q", "head H16 rotor-30q"),)),
    ("zone-pressure-spread", (("lateral L31 pvc-sch40 1 in", "lateral L31 pvc-sch80 1/2 in"),
                              ("lateral L33 pvc-sch40 1 in", "lateral L33 pvc-sch80 1/2 in"))),
    ("zone-low-head", (("(0, 46) 101.4", "(0, 46) 103"), ("(24, 45) 101.5", "(24, 45) 103.1"),
                       ("(70, 46) 101.4", "(70, 46) 103"))),
    ("head-least-pressure", (("lowest 58 psi", "lowest 40 psi"),)),
    ("head-most-pressure", (("90 deg\n  pressure 30 psi to 60 psi", "90 deg\n  pressure 30 psi to 42 psi"),)),
    ("head-spacing", (("radius 30 ft at 40 psi\n  arc 90 deg", "radius 26 ft at 40 psi\n  arc 90 deg"),)),
    ("head-to-hardscape", (("route N21 -> (46, 34)", "route N21 -> (47.8, 34)"),
                           ("spray-15q, at (46, 34)", "spray-15q, at (47.8, 34)"))),
    ("head-overspray", (("on L25, arc west to north", "on L25, arc north to east"),)),
    ("drip-least-pressure", (("set 30 psi", "set 10 psi"),)),
    ("drip-most-pressure", (("compensating\n", ""), ("to 45 psi, best 30 psi", "to 25 psi, best 20 psi"))),
    ("drip-strained", (("pipe P41 ...\n", ""), ("strainer ST4 ...\n", ""), ("route ST4 ->", "route V4 ->"))),
    ("area-watered", (("waters Border", "waters Front"),)),
    ("rain-shutoff", (("rain sensor RS1 ...", "rain sensor none\n  soil sensor none"),)),
    ("freeze-shutoff", (("freeze sensor FS1 ...", "freeze sensor none"),)),
    ("wire-cover", (("one spare\", cover ...", "one spare\", cover 5 in"),)),
    ("controller-stations", (("stations 6", "stations 3"),)),
    ("watering-window", (("window 4 h", "window 1 h"),)),
    ("plan-revisions", (("revision A ...", ""),)),
    ("project-named", (("owner \"Odile Fenwarren\"", ""),)),
    ("licence-stated", ((", licence \"QM-IR-0187\"", ""),)),
    ("licence-current", (("expires 2027-03-31", "expires 2026-05-03"),)),
    *((f"recorded-{r}", PVB_SHORT) for r in ("test-passed", "gauge", "air-inlet", "check")),
    ("recorded-test-whole", PVB_MOVED),
    ("tested-since-changed", PVB_MOVED),
    ("recorded-rp-checks", RP_SHORT),
    ("recorded-relief", RP_SHORT),
    ("recorded-double-check", DC_SHORT),
    ("recorded-pressure-test", MAIN_LOST),
    ("pressure-test-as-stated", MAIN_LOST),
    ("assembly-above-snow", (("critical level 28 in", "critical level 23 in"),)),
    ("assembly-supported", ((', supports "two galvanised posts"', ""),)),
    ("zone-spare-pressure", (("lowest 58 psi", "lowest 50 psi"),)),
)  # fmt: skip

# Rules that do not apply to the example as it is: (rule, changes under which it meets).
MEETS: tuple[tuple[str, tuple[Change, ...]], ...] = (
    ("thermal-expansion", REGULATOR_TO_HOUSE),
    ("assembly-for-chemicals", (*RP, CHEMICALS)),
    ("assembly-for-septic", (*RP, SEPTIC)),
    ("assembly-for-second-source", (*RP, SECOND)),
    ("assembly-for-reclaimed", (*RP, RECLAIMED)),
    ("assembly-against-backpressure", (*RP, PUMP)),
    ("double-check-hazard", DC),
    ("atmospheric-above-outlets", AVB_BEHIND_V1),
    ("atmospheric-no-valve-downstream", AVB_BEHIND_V1),
    ("atmospheric-not-always-pressed", AVB_BEHIND_V1),
    ("rp-above-grade", RP),
    ("rp-within-reach", RP),
    ("rp-not-in-box", RP),
    ("rp-drain", RP),
    ("master-valve-downstream", (*MASTER_BEHIND, MASTER_PART)),
    *((f"recorded-{r}", PVB_GOOD) for r in ("test-passed", "test-whole", "gauge", "air-inlet", "check")),
    ("tested-since-changed", PVB_GOOD),
    ("recorded-rp-checks", RP_GOOD),
    ("recorded-relief", RP_GOOD),
    ("recorded-double-check", DC_GOOD),
    ("recorded-pressure-test", MAIN_HELD),
    ("sewer-separation", sewer_at_tap("4 ft")),
    ("gas-separation", gas_under_main("36 in")),
)
