"""The steps after the backfill: laterals, heads, the tester, start-up, sensors, record, winter."""

from __future__ import annotations

from plangen.quantity.dimension import PSI_PA
from plangen.sheets.procedure_figures import Figures
from plangen.sheets.procedure_fill import FLUSH_MS, natural, speed
from plangen.sheets.procedure_standing import new_heads, new_laterals
from plangen.sheets.procedure_types import COMMON_PRACTICE, NOT_STATED, Step
from plangen.sheets.procedure_water import open_step

# Trade and extension pages agree on no more than about 50 psi for plastic; none is a standard.
PURGE_CAP_TEXT = {"us": "50 psi", "metric": "3.4 bar"}
PURGE_CAP_PA = 50 * PSI_PA


def inspected_and_covered(f: Figures) -> tuple[Step, ...]:
    """Return the inspection of the open trench and the backfill."""
    return (
        Step(
            0,
            "inspect",
            "Inspection of the open trench",
            (
                "Call the inspector as long ahead as the authority asks; hours or days differ by place.",
                "Pipe, joints, sleeves, covers, wire, boxes and the assembly's height are shown uncovered,"
                " with the main still under test.",
            ),
            f.covers().capitalize(),
            "Work covered before inspection may have to be dug up again.",
            "21 NCAC 23; city inspection rules: inspected before any backfill",
            "Inspector releases the trench",
        ),
        Step(
            0,
            "backfill",
            "Backfill in layers",
            (
                "Only after the inspector's release: select soil by hand to above the pipe, then in layers,"
                " each compacted; warning tape or tracer where stated.",
                "Keep the main under pressure and watch the gauge while filling and compacting.",
                *(
                    ("The joints of a lateral stay in view until its zone is flushed and seen tight.",)
                    if new_laterals(f)
                    else ()
                ),
            ),
            f"{f.covers().capitalize()}; warning tape {f.words('warning tape')}; tracer wire"
            f" {f.words('tracer wire')}",
            "Stones and clods against plastic break it in later years.",
            "ASTM D2774 (laying and backfill of thermoplastic pressure pipe)",
        ),
    )


def laterals_and_heads(f: Figures) -> tuple[Step, ...]:
    """Return the steps that flush each new lateral and only then fit its heads."""
    opened = (open_step(f),) if f.behind_valves else ()
    flushed = (_flush_laterals(f),) if new_laterals(f) else ()
    fitted = (_fit_heads(f),) if new_heads(f) else ()
    return (*opened, *flushed, *fitted)


def _flush_laterals(f: Figures) -> Step:
    dug = {p.zone for p in f.design.pipes if p.role == "lateral" and p.state in ("new", "relocated")}
    zones = sorted((z for z in f.design.zones if not dug or z.name in dug), key=lambda z: natural(z.name))
    drip = [z.name for z in zones if z.kind == "drip"]
    rows = [r for r in f.fill.rows if r.role == "lateral"]
    flows = sorted({(r.size, r.flush_m3s) for r in rows}, key=lambda s: -s[1])
    flush = "; ".join(f"{size} {f.flow(flow)}" for size, flow in flows) or NOT_STATED
    return Step(
        0,
        "flush-laterals",
        "Flush every lateral, open ends, no heads",
        (
            "Zone by zone: open the valve by hand slowly with every riser open, let it run until clear, then"
            " plug the risers from the valve outward so that the far end runs last and clear.",
            "With the risers plugged let the zone stand under pressure, see each joint dry, cover it.",
            f"Order: {', '.join(z.name for z in zones) or NOT_STATED}."
            + (f" Drip ({', '.join(drip)}): flush line ends before caps and emitters." if drip else ""),
        ),
        f"Laterals hold {f.volume(f.fill.laterals_m3)}; scouring flow, {speed(FLUSH_MS, f.system)}: {flush}",
        "Lead the water off paving and neighbours' ground; muddy water stays out of the gutter.",
        "scouring 2.5 ft/s: American Fork UT code 15.01.790; flush before heads: same code 15.01.840",
    )


def _fit_heads(f: Figures) -> Step:
    heads = [h for h in f.design.heads if h.state in ("new", "relocated")]
    pops = sorted({h.part.pop_up.written for h in heads if h.part.pop_up is not None})
    return Step(
        0,
        "fit-heads",
        "Fit swing joints, heads and nozzles",
        (
            "Only on a flushed lateral. Head plumb, its top at finished grade when down, clear of paving.",
            "Fit the nozzles named on the schedule; wipe the filter under each.",
        ),
        f"{len(heads)} heads; pop-up {', '.join(pops) or NOT_STATED}",
        "A head above grade trips people and is cut by mowers; one below grade breaks the height rule's"
        " datum.",
        COMMON_PRACTICE,
    )


def prove_and_start(f: Figures) -> tuple[Step, ...]:
    """Return the steps from the tester's visit to the sensors."""
    return (_assembly_test(f), _insulate(f), _start_up(f), _sensors(f))


def _assembly_test(f: Figures) -> Step:
    assembly = f.assembly
    name = f.assemblies
    each = f"Each of {name}" if "," in name else name
    serial = assembly.serial if assembly and assembly.serial else NOT_STATED
    return Step(
        0,
        "assembly-test",
        "Assembly tested by a certified tester" if f.work is None or f.work.shutoffs else "Assembly proved",
        (
            *(line.format(each) for line in (f.work.proved if f.work else ("{} is tested before use.",))),
            "The report goes to the purveyor within its time limit; a failed assembly stays shut off.",
            "Again whenever it is moved, repaired or taken out, and each year where the rule asks.",
        ),
        f"{name} serial {serial}; readings are written by the tester, none are printed here",
        "Untested, the assembly counts as no protection: the isolation valve is closed whenever nobody works"
        " on the line.",
        "local cross-connection rules (e.g. 30 TAC 344.50 and 290.44(h); time limits differ by purveyor)",
        "Report accepted by the purveyor",
    )


def _insulate(f: Figures) -> Step:
    assembly = f.assembly
    jacket = assembly.insulation if assembly and assembly.insulation else NOT_STATED
    drain = assembly.drain if assembly and assembly.drain else NOT_STATED
    return Step(
        0,
        "insulate",
        "Insulate and enclose",
        (
            "Fit jacket and enclosure so that vents, relief port, cocks and handles stay free, the drain path"
            " open. Exposed pipe was insulated on the day it was built.",
        ),
        f"Insulation: {jacket}; drain: {drain}",
        "Never plug or wrap a relief port or air inlet. A jacket does not stop a hard freeze: drain for"
        " winter.",
        "city standards on enclosure and drainage of assemblies; common practice",
    )


def _start_up(f: Figures) -> Step:
    return Step(
        0,
        "start-up",
        "Start-up",
        (
            "Run each zone; read the pressure at the worst outlet and compare it with the hydraulics sheet.",
            "Set arcs and radius: no spray on paving, walls or the street.",
        ),
        _worst(f),
        "A reading far off the plan means a wrong figure somewhere: find it before the system is left"
        " running.",
        "21 NCAC 23 .0510 (start-up inspection)",
        "Readings written on the record sheet",
    )


def _sensors(f: Figures) -> Step:
    sensors = ", ".join(s.name for s in f.design.control.sensors) if f.design.control else ""
    return Step(
        0,
        "sensors",
        "Prove sensors and controller",
        (
            "Wet the rain sensor and chill the freeze sensor: each must stop a running zone.",
            "Turn every valve that was opened by hand back. Set the schedule of the packet and leave the zone"
            " chart at the controller.",
        ),
        f"Sensors: {sensors or NOT_STATED}",
        "Controller and transformer: wiring by whom the electrical code allows.",
        "state irrigation rules asking for a rain or freeze sensor; common practice for the trial",
    )


def hand_over(f: Figures) -> tuple[Step, ...]:
    """Return the record drawing, final inspection and winter steps."""
    drain, blow = f.names("drain") or NOT_STATED, f.names("blow-out") or NOT_STATED
    iso = f.names("isolation") or "the isolation valve"
    name = f.assemblies
    master = f"{found} and " if (found := f.names("master-valve")) else ""
    rating, _ = f.weakest()
    work = f.work
    shut = work is None or bool(work.shutoffs)
    return (
        Step(
            0,
            "record",
            "Record drawing, final inspection, handover",
            (
                "Changes are marked in red on the site copy; valves and splices with two tie distances.",
                "Show the owner the shut-off, the drain and the controller; hand over reports and this plan.",
            ),
            f"Show: {iso}, {name}, {drain}",
            "Later owners dig by this drawing: an unmarked change is a trap.",
            "21 NCAC 23 .0301; 30 TAC 344.61 and 344.63 (record and handover)",
            "Final inspection",
        ),
        Step(
            0,
            "winter",
            "Drain for winter",
            (
                f"Controller off; close {iso}; open drain {drain}; open {master}a zone valve by hand,"
                " farthest first.",
                _air(f, blow, shut),
                "Bleed the main to zero"
                + (
                    f"; open the cocks of {name}, leave its ball valves half open (45 degrees)."
                    if shut
                    else "."
                ),
                f"Between {iso} and {name} water still stands: let it out where the pipe rises above ground,"
                " or the riser freezes first.",
            ),
            _purge(f, rating),
            "Blowing out is a purge with an open end, not a test. Eye protection; nobody over boxes or"
            " heads.",
            "21 NCAC 23 .0602 (water out of all that freezes); air limit: weak sources, common practice",
        ),
    )


def _before_assembly(f: Figures) -> bool:
    return f.assembly is not None and not all(f.behind(d) for d in f.design.devices_of("blow-out"))


def _air(f: Figures, blow: str, shut: bool) -> str:
    """Return where air may be let in: never where it would go through an assembly."""
    if _before_assembly(f):
        return (
            f"No air at {blow}: it stands before the assembly, and air never goes through one. Let the"
            " water run out at the drains and low heads."
        )
    return (
        f"If air is used: at {blow}, after the assembly and never through it"
        + (", both its shut-offs closed" if shut else "")
        + ", a zone open first, regulator and relief on the hose, stop at mist."
    )


def _purge(f: Figures, rating: str) -> str:
    """Return the limit of the purge air. A stated pressure counts only where it is under the limit."""
    if _before_assembly(f):
        return "No purge by air: the blow-out fitting stands before the assembly"
    cap = PURGE_CAP_TEXT[f.system]
    stated = next((q for name, q in f.design.procedure_facts if name == "purge pressure"), None)
    least = f"or the lowest rating of a part if that is less ({rating})"
    if stated is None:
        return f"Purge air no more than {cap}, {least}"
    if stated.si <= PURGE_CAP_PA:
        return f"Purge air no more than {stated.written} as stated, {least}"
    return f"Purge air no more than {cap}, {least}; THE STATED {stated.written} IS ABOVE THAT: NOT USED"


def _worst(f: Figures) -> str:
    case = next((c for c in f.hydraulics.cases if c.case == f.hydraulics.worst), None)
    if case is None or case.budget is None:
        return f"Worst outlet {NOT_STATED}: hydraulics not solved"
    b = case.budget
    needs = f.pressure(b.required_m)
    return f"Worst outlet {b.outlet} ({case.case}): {f.pressure(b.available_m)} calculated, needs {needs}"
