"""The steps before water is let in: permit to open trench. `procedure_steps` gives them their numbers.

Law and standards are paraphrased and cited; what is only custom says so.
"""

from __future__ import annotations

from plangen.sheets.connection_path import connection_pipes
from plangen.sheets.procedure_figures import Figures
from plangen.sheets.procedure_types import COMMON_PRACTICE, NOT_STATED, Step


def before_digging(f: Figures) -> tuple[Step, ...]:
    """Return the steps from permit to shutdown notice."""
    project, source = f.design.project, f.design.source
    measured = source.static if source else None
    static = NOT_STATED if measured is None else f"{measured.written} ({measured.provenance.told()})"
    new = [p for p in f.design.pipes if p.state == "new"]
    return (
        Step(
            0,
            "permit",
            "Permit in hand",
            (
                "Have the permit and the approved sheets on the site before any work.",
                "Any change is sent back for review before it is built.",
            ),
            f"Permit no. {project.permit or NOT_STATED}; authority pack:"
            f" {', '.join(project.jurisdictions) or NOT_STATED}",
            "This plan is not an approval. The local code, the water purveyor and the licensed trade decide.",
            "model building codes: approved set kept at the work site; local permit rules",
            "Permit office",
        ),
        Step(
            0,
            "verify",
            "Check the design's inputs on site",
            (
                "Gauge the static pressure at an outside tap with no water running, and write down date and"
                " hour.",
                "Measure the meter, the service and its material. If they differ from the plan, stop and"
                " redraw.",
            ),
            f"Design: static {static}; design pressure {f.pressure(f.hydraulics.design_pressure_m)}",
            "A lower pressure than the plan's makes every pressure on these sheets wrong.",
            "landscape irrigation good-practice guides (verify connection, flow and pressure before work)",
            "Irrigator",
        ),
        Step(
            0,
            "locate",
            "Call for locates",
            (
                "White-mark the trench lines and call 811 at least the working days ahead that state law"
                " asks.",
                "Wait until every utility has answered. Private lines (gas to a grill, yard power, old"
                " irrigation)"
                " are not located: find them by other means.",
                "Dig by hand within the tolerance zone of each mark; its width is set by state law.",
            ),
            _utilities(f),
            "Never dig by machine over a mark. Gas or power struck: leave, keep others away, call 911.",
            "state one-call law; notice times and hand-dig widths differ (e.g. Code of Ala. 37-15; N.C. 811)",
            "All utilities answered",
        ),
        Step(
            0,
            "stake",
            "Stake the work",
            (
                "Stake tap, isolation valve, assembly, valve boxes and heads from the two fixed corners on"
                " the"
                " connection plan; paint the trenches.",
                "Check each head against paving and walls before digging.",
            ),
            f"{len(f.design.heads)} heads, {len(f.design.zones)} zones, {len(new)} new pipes",
            "A staked head that does not match the plan is moved on paper first.",
            COMMON_PRACTICE,
        ),
        Step(
            0,
            "notice",
            "Give notice of the shutdown",
            (
                "Tell every occupant the hour and length of the shutdown; have water set aside.",
                "The purveyor alone works its main, its curb stop and its meter unless it says otherwise.",
            ),
            f"Purveyor: {project.purveyor or NOT_STATED}; address: {project.address or NOT_STATED}",
            "Medical equipment, fire sprinklers and boilers on this service must be made safe first.",
            COMMON_PRACTICE,
            "Purveyor and occupants told",
        ),
    )


def _utilities(f: Figures) -> str:
    found = [
        f"{u.kind} {u.name} depth {u.depth.written if u.depth else NOT_STATED}"
        for u in f.design.site.utilities
    ]
    return "Shown on plan: " + "; ".join(found) if found else f"Utilities on plan: {NOT_STATED}"


def open_ground(f: Figures) -> tuple[Step, ...]:
    """Return the steps from trenching to the restored house service."""
    frost = f.design.site.frost_depth
    tap = f.names("tap") or NOT_STATED
    iso = f.names("isolation") or NOT_STATED
    return (
        Step(
            0,
            "trench",
            "Dig the trenches",
            (
                "Dig to the covers of the trench sections with a smooth bottom free of stones; spoil back"
                " from the edge.",
                "Put sleeves under paving before the pipe. Leave every joint and the tap open to view.",
            ),
            f"{f.covers()}; frost depth {frost.written if frost else NOT_STATED}".capitalize(),
            "Spoil at least 2 ft (0.6 m) back; a way out within 25 ft (7.6 m) at 4 ft (1.2 m) deep; protect"
            " against"
            " cave-in at 5 ft (1.5 m) or sooner. Cutting paving: keep silica dust down.",
            "29 CFR 1926.651(c)(2), (j)(2), (k); 1926.652(a)(1); 1926.1153 (silica, from memory)",
        ),
        Step(
            0,
            "expose",
            "Expose the service",
            (
                "Uncover the service by hand and identify its material and size.",
                "Stop if it is lead, asbestos cement, galvanised, or not what the plan says.",
            ),
            _service(f),
            "Lead or unknown pipe: do not cut; the purveyor decides.",
            COMMON_PRACTICE,
            "Material identified",
        ),
        Step(
            0,
            "prove-zero",
            "Shut off and prove zero pressure",
            (
                "Shut the stop, tag it so that nobody opens it, open a low tap and an outside tap.",
                "Wait until the gauge at the outside tap reads zero and stays there.",
                "Keep mud and ground water out: the hole is pumped dry to below the pipe.",
            ),
            f"From {f.pressure(f.hydraulics.static_pressure_m)} static to zero",
            "Never cut a pipe that is only believed to be dead. Mind a bonding conductor on metal pipe: keep"
            " the"
            " earth path whole with a jumper before the cut.",
            COMMON_PRACTICE,
            "Zero pressure seen",
        ),
        Step(
            0,
            "cut-in",
            "Cut in the tap",
            (
                f"Cut in {tap} with fittings listed for drinking water; keep open ends plugged at all times.",
                "Wipe or swab pipe and fittings of the drinking-water side as the code asks.",
                f"Fit the isolation valve {iso} directly and leave it CLOSED.",
            ),
            f"Tap {tap}; isolation {iso}",
            "No pipe cement, flux or soil may enter the drinking-water side.",
            "plumbing codes on cleaning of potable piping (section 610 of the model codes, from memory)",
            "Joint seen by inspector or purveyor where asked",
        ),
        Step(
            0,
            "restore",
            "Give the house its water back",
            (
                f"With {iso} closed, open the stop slowly; flush at an outside tap before any inside"
                " fixture.",
                "Look at every joint under pressure with the hole open.",
            ),
            f"House side to {f.pressure(f.hydraulics.static_pressure_m)}; irrigation side stays dry",
            "The house side is drinking water: no use before it runs clear.",
            COMMON_PRACTICE,
            "No leak at the tap",
        ),
    )


def _service(f: Figures) -> str:
    found = [
        f"{p.name} {p.nominal.written} {p.size.family} cover {p.cover.written if p.cover else NOT_STATED}"
        for p in f.design.pipes
        if p.role == "service" and p.state == "existing"
    ]
    return "Plan says: " + "; ".join(found) if found else f"Service: {NOT_STATED}"


def lay_pipe(f: Figures) -> tuple[Step, ...]:
    """Return the steps from laying the main to the partial backfill."""
    assembly = f.assembly
    name = assembly.name if assembly else NOT_STATED
    height = f.small(assembly.height if assembly else None)
    clear = f.small(assembly.wall_clearance if assembly else None)
    return (
        Step(
            0,
            "joints",
            "Make the joints and let them cure",
            (
                "Cut square, deburr, clean and dry; primer and cement of the pipe's own standard, both"
                " surfaces,"
                " joined while wet and held.",
                "Write the hour of the last joint on the hold card. Curing time comes from the cement's"
                " label for"
                " the day's temperature, the size and the test pressure; without a label, 24 hours.",
                "Below 40 °F (4 °C) do not cement; after a night below that, wait two days.",
            ),
            f"Cure time {f.fact('cure time')}; temperature {f.fact('temperature')}",
            "Primer and cement burn and stun: no flame, fresh air in the trench, eye protection, proof"
            " gloves."
            " Never pressurise an uncured joint.",
            "ASTM D2855 (joining), F656 (primer), D2564 (cement), F402 (safe handling); cure default from a"
            " trade"
            " association column, not a standard",
            "Cure time over",
        ),
        Step(
            0,
            "flush-connection",
            "Flush the connection before the assembly is set",
            (
                "Lead the open end away to clear ground, open the isolation valve slowly, run until clear,"
                " close it again.",
            ),
            _flush_to_assembly(f),
            "Grit left in the line holds a check open. Hold the open end: it kicks.",
            COMMON_PRACTICE,
        ),
        Step(
            0,
            "set-assembly",
            "Set the assembly",
            (
                f"Set {name} upright and plumb, flow arrow with the flow, shut-offs closed, plugs in the"
                " cocks,"
                " supports carrying the weight.",
                "Measure the height from finished grade at the assembly, not from the bottom of the trench.",
                "Leave room for the tester's hoses on the side of the cocks.",
            ),
            f"{name}: level {height} above grade; clear of the wall {clear}; supports:"
            f" {assembly.supports if assembly and assembly.supports else NOT_STATED}",
            "An assembly set low, leaning or backward does not protect the drinking water.",
            "height and clearance: the local rule, see the code check (e.g. 30 TAC 344.50)",
            "Height measured by a second person",
        ),
        Step(
            0,
            "partial-backfill",
            "Cover the pipe bodies, leave the joints open",
            (
                "Lay select soil on the barrel of each pipe between joints so that it cannot lift or whip.",
                "Joints, tees, valves, sleeves' ends and the tap stay in view until inspected.",
            ),
            f.covers().capitalize(),
            "A bare main moves when it fills; an unrestrained bend can come apart.",
            "trade association column (partial backfill before test); ASTM D2774 (laying)",
        ),
        Step(
            0,
            "wire-valves",
            "Fit zone valves and pull the wire",
            (
                "Flush the main at each valve's place before the valve goes in; then fit the valve in its"
                " box with"
                " the union to hand.",
                "Lay the wire beside or under the main with slack at turns; splices in boxes, waterproof, on"
                " the"
                " record drawing.",
            ),
            _wire(f),
            "Controller unplugged and locked off while wires are joined.",
            "30 V or less: cover per NEC Table 300.5 where the local code applies it; splices: 21 NCAC 23"
            " .0301",
        ),
    )


def _flush_to_assembly(f: Figures) -> str:
    ahead = connection_pipes(f.design)
    rows = [r for r in f.fill.rows if r.pipe in ahead]
    if not rows:
        return f"Flushing flow {NOT_STATED}"
    return "Flush at " + "; ".join(f"{r.pipe} {f.flow(r.flush_m3s)}" for r in rows) + " or more (2.5 ft/s)"


def _wire(f: Figures) -> str:
    control = f.design.control
    if control is None:
        return f"Valves {f.names('valve') or NOT_STATED}; wire {NOT_STATED}"
    cover = control.wire_cover.written if control.wire_cover else NOT_STATED
    return f"Valves {f.names('valve') or NOT_STATED}; wire {control.wire or NOT_STATED}; wire cover {cover}"
