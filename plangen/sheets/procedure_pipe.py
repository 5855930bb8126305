"""The steps of the pipe itself: joints, flushing, the assembly, partial backfill, zone valves and wire.

Law and standards are paraphrased and cited; what is only custom says so.
"""

from __future__ import annotations

from plangen.sheets.joining import cemented, joinings, new_pipes
from plangen.sheets.procedure_figures import Figures
from plangen.sheets.procedure_fill import FLUSH_MS, speed
from plangen.sheets.procedure_standing import valves_stand
from plangen.sheets.procedure_types import COMMON_PRACTICE, NOT_STATED, FillRow, Step


def lay_pipe(f: Figures) -> tuple[Step, ...]:
    """Return the steps from the joints to the wire; an assembly stands where its kind wants it by then."""
    setting = (_flush_connection(f), _set_assembly(f), _partial_backfill(f))
    if valves_stand(f):
        return (_joints(f), *setting, flush_past_valves(f))
    valves = (_flush_main(f), _wire_valves(f))
    return (_joints(f), *valves, *setting) if f.behind_valves else (_joints(f), *setting, *valves)


def _joints(f: Figures) -> Step:
    ways = joinings(f.design)
    cured = cemented(f.design)
    stated = f"Cure time {f.fact('cure time')}; temperature {f.fact('temperature')}"
    return Step(
        0,
        "joints",
        "Make the joints and let them cure" if cured else "Make the joints",
        tuple(line for way in ways for line in way.work) or (f"How the pipe is joined: {NOT_STATED}.",),
        stated if cured else f"New pipe: {', '.join(sorted({p.size.family for p in new_pipes(f.design)}))}",
        " ".join(way.caution for way in ways) or "A joint nobody planned is where a main comes apart.",
        "; ".join(way.source for way in ways) or COMMON_PRACTICE,
        "Cure time over" if cured else "Every joint looked at",
    )


def _flush_connection(f: Figures) -> Step:
    return Step(
        0,
        "flush-connection",
        "Flush the connection before the assembly is set",
        (
            "At each place of an assembly lead the open end away to clear ground, open the valve before it by"
            " hand, slowly, run until clear, close it again."
            if f.behind_valves
            else "Lead the open end away to clear ground, open the isolation valve slowly, run until clear,"
            " close it again.",
        ),
        _flush_to_assembly(f),
        "Grit left in the line holds a check open. Hold the open end: it kicks.",
        COMMON_PRACTICE,
    )


def _set_assembly(f: Figures) -> Step:
    assembly = f.assembly
    height = f.small(assembly.height if assembly else None)
    clear = f.small(assembly.wall_clearance if assembly else None)
    return Step(
        0,
        "set-assembly",
        "Set the assembly",
        _setting(f),
        f"{f.assemblies}: level {height} above grade; clear of the wall {clear}; supports:"
        f" {assembly.supports if assembly and assembly.supports else NOT_STATED}",
        "An assembly set low, leaning or backward does not protect the drinking water."
        if f.work is None or not f.work.setting
        else "A gap that is bridged, drowned or hidden does not protect the drinking water.",
        "height and clearance: the local rule, see the code check (e.g. 30 TAC 344.50)"
        if f.work is None or not f.work.setting
        else "air gap: twice the bore and 1 in at least (EPA cross-connection control manual, from memory)",
        "Height measured by a second person",
    )


def _setting(f: Figures) -> tuple[str, ...]:
    """Return how the assembly is set: a body in the line unless its kind says otherwise."""
    work, kind = f.work, f.assembly.assembly_kind if f.assembly else ""
    if work is not None and work.setting:
        return tuple(line.format(f.assemblies) for line in work.setting)
    shut = work is None or bool(work.shutoffs)
    return (
        f"Set {f.assemblies} upright and plumb, flow arrow with the flow, supports carrying the weight"
        + ("; shut-offs closed, plugs in the cocks." if shut else "."),
        *_rising(kind),
        "Measure the height from finished grade at the assembly, not from the bottom of the trench.",
        *(("Leave room for the tester's hoses on the side of the cocks.",) if shut else ()),
        "Insulate exposed pipe the same day; vents, ports and cocks stay free.",
    )


def _rising(kind: str) -> tuple[str, ...]:
    """Return how the pipe comes to and leaves a vacuum breaker."""
    if kind == "db":
        return ("The pipe rises above it, turns over and comes down through it: water flows straight down.",)
    if kind not in ("pvb", "svb", "avb"):
        return ()
    return ("The pipe rises straight up into it, leaves level and turns down.",)


def _partial_backfill(f: Figures) -> Step:
    return Step(
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
    )


def _flush_main(f: Figures) -> Step:
    return Step(
        0,
        "flush-main",
        "Flush the main before the zone valves",
        (
            f"The main's ends are open at the places of the valves{_shut_ways(f)}. Open {_first_valve(f)}"
            " slowly and run each end until clear, nearest first.",
            f"Close {_first_valve(f)} again, let the main drain, and cap the ends until the valves are"
            " fitted.",
        ),
        _flush_main_text(f),
        "Lead the water away from the open trench: it undermines the bedding.",
        "scouring 2.5 ft/s: American Fork UT code 15.01.790; the rest common practice",
    )


def _first_valve(f: Figures) -> str:
    """Return what lets water into the main while it is flushed: behind an air gap it comes from the tank."""
    gap = f.assembly is not None and f.assembly.assembly_kind == "air-gap"
    return "the valve after the tank" if gap else "the isolation valve"


def _shut_ways(f: Figures) -> str:
    """Return how the assembly stands while the main behind it is flushed."""
    work = f.work
    shut = [name for kind in ("drain", "blow-out") if (name := f.names(kind))]
    drains = f", {' and '.join(shut)} shut" if shut else ""
    drains += f", {master} open by hand" if (master := f.names("master-valve")) else ""
    drains += f", {injector} out of line" if (injector := f.names("injector")) else ""
    if work is None or not work.shutoffs or f.assembly is None:
        return drains
    return f", both shut-offs of {f.assembly.name} open, its cocks shut{drains}"


def flush_past_valves(f: Figures) -> Step:
    """Return how the main is flushed where its valves are there already and stay shut."""
    ends = " and ".join(n for kind in ("blow-out", "drain") if (n := f.names(kind)))
    return Step(
        0,
        "flush-main",
        "Flush the main, the zone valves shut",
        (
            f"Keep every zone valve shut: grit of the cut must not reach its seat. Open"
            f" {ends or 'an end of the main: none is shown'}"
            + (
                f"; both shut-offs of {f.assemblies} open, its cocks shut"
                if f.work and f.work.shutoffs
                else ""
            )
            + f". Open {_first_valve(f)} slowly and run until clear.",
            f"Close {_first_valve(f)} again, let the main drain.",
        ),
        _flush_main_text(f),
        "Lead the water away from the open trench: it undermines the bedding.",
        "scouring 2.5 ft/s: American Fork UT code 15.01.790; the rest common practice",
    )


def _wire_valves(f: Figures) -> Step:
    return Step(
        0,
        "wire-valves",
        "Fit zone valves and pull the wire",
        (
            "At each valve's place take the cap off, look that the end is clean, and fit the valve in its box"
            " with the union to hand.",
            "Lay the wire beside or under the main with slack at turns; splices in boxes, waterproof, on"
            " the"
            " record drawing.",
        ),
        _wire(f),
        "Controller unplugged and locked off while wires are joined.",
        "30 V or less: cover per NEC Table 300.5 where the local code applies it; splices: 21 NCAC 23 .0301",
    )


def _flush_to_assembly(f: Figures) -> str:
    if f.behind_valves:
        return _scoured(f, [r for r in f.fill.rows if r.role == "lateral" and r.pipe not in f.fill.past])
    rows = [r for r in f.fill.rows if r.role != "lateral" and r.pipe not in f.fill.past]
    if not rows:
        return f"Flushing flow {NOT_STATED}"
    return (
        "Flush at "
        + "; ".join(f"{r.pipe} {f.flow(r.flush_m3s)}" for r in rows)
        + f" or more, {speed(FLUSH_MS, f.system)}"
    )


def _flush_main_text(f: Figures) -> str:
    main = [r for r in f.fill.rows if r.role != "lateral"]
    return _scoured(f, [r for r in main if f.behind_valves or r.pipe in f.fill.past])


def _scoured(f: Figures, rows: list[FillRow]) -> str:
    flows = sorted({(r.flush_m3s, r.size) for r in rows}, reverse=True)
    if not flows:
        return f"Flushing flow {NOT_STATED}"
    return (
        "Flush "
        + "; ".join(f"{size} at {f.flow(flow)}" for flow, size in flows)
        + f" or more, {speed(FLUSH_MS, f.system)}"
    )


def _wire(f: Figures) -> str:
    control = f.design.control
    if control is None:
        return f"Valves {f.names('valve') or NOT_STATED}; wire {NOT_STATED}"
    cover = control.wire_cover.written if control.wire_cover else NOT_STATED
    return f"Valves {f.names('valve') or NOT_STATED}; wire {control.wire or NOT_STATED}; wire cover {cover}"
