"""The steps from the first water to the backfill: first state of each valve, filling, purging, testing.

Figures are this system's own volumes, flows and pressures; a test pressure that nobody stated is not guessed.
"""

from __future__ import annotations

from plangen.sheets.procedure_assembly import workings
from plangen.sheets.procedure_figures import Figures
from plangen.sheets.procedure_fill import FILL_MS, natural, speed
from plangen.sheets.procedure_standing import old_main
from plangen.sheets.procedure_types import COMMON_PRACTICE, NOT_STATED, Filling, Step, ValveState


def first_states(f: Figures) -> tuple[ValveState, ...]:
    """Return how every shut-off, cock, valve and drain stands before the first water."""
    states: list[ValveState] = []
    for device in sorted(f.design.devices, key=lambda d: natural(d.name)):
        if device.state == "removed":
            continue
        match device.kind:
            case "isolation":
                states.append(
                    ValveState(device.name, "isolation valve", "closed", "house served, irrigation dry")
                )
            case "assembly":
                states.extend(_assembly_states(device.name, device.assembly_kind))
            case "valve":
                states.append(
                    ValveState(device.name, "zone valve", "closed", "controller off, bleed screw shut")
                )
            case "master-valve":
                states.append(
                    ValveState(device.name, "master valve", "open by hand", "so that the main can fill")
                )
            case "drain":
                states.append(
                    ValveState(device.name, "manual drain", "closed", "opened only to empty the main")
                )
            case "blow-out":
                states.append(
                    ValveState(
                        device.name,
                        "blow-out fitting",
                        "open as the vent",
                        "lets air out while the main fills",
                    )
                )
            case "pump":
                states.append(ValveState(device.name, "pump", "off, locked", "no pressure but the service's"))
            case "injector":
                states.append(
                    ValveState(device.name, "injector", "closed, out of line", "no chemical during tests")
                )
            case _:
                pass
    return tuple(states)


def _assembly_states(name: str, kind: str) -> list[ValveState]:
    work = workings(kind)
    if work is None:
        return [ValveState(name, "assembly", NOT_STATED, "the kind of assembly is not stated: do not fill")]
    if not work.shutoffs:
        return [ValveState(name, work.code, "no shut-off of its own", "governed by the valve before it")]
    inlet, outlet = work.shutoffs
    states = [
        ValveState(name, f"shut-off {inlet}", "open", "the air of the connection passes to the cocks"),
        ValveState(name, f"shut-off {outlet}", "closed", "the main stays dry until its own step"),
    ]
    states += [
        ValveState(name, vent, "half open (45 degrees)", "air leaves; closed as it runs solid")
        for vent in work.vents
    ]
    states += [
        ValveState(name, f"test cock {n}", "half open (45 degrees)", "air leaves; closed as it runs solid")
        for n in range(1, work.cocks + 1)
    ]
    return states


def vent_name(f: Figures) -> str:
    """Return what lets the air out of the main: the blow-out fitting, else the farthest valve's bleed."""
    blow = f.names("blow-out")
    if blow:
        return f"{blow} (blow-out fitting)"
    valves = list(f.design.standing("valve"))
    start = f.assembly or next(iter(f.design.devices_of("tap")), None)
    if not valves:
        return NOT_STATED
    if start is None:
        return f"{valves[-1].name} (bleed screw)"
    x, y = start.point
    far = max(valves, key=lambda d: ((d.point.x - x) ** 2 + (d.point.y - y) ** 2, natural(d.name)))
    return f"{far.name} (bleed screw of the farthest valve)"


def fill_and_test(f: Figures) -> tuple[Step, ...]:
    """Return the steps from the first state of the valves to the test of the main.

    Vented assemblies behind the zone valves are opened with their laterals, after the trench is inspected.
    """
    if f.behind_valves:
        return (_states_step(f), _connection_step(f), _purge_step(f), _test_step(f))
    return (
        _states_step(f),
        _connection_step(f),
        open_step(f),
        _fill_step(f),
        _purge_step(f),
        _test_step(f),
    )


def _states_step(f: Figures) -> Step:
    states = first_states(f)
    groups: dict[str, list[str]] = {}
    for s in states:
        groups.setdefault(s.state, []).append(f"{s.object} {s.part}" if s.part != "zone valve" else s.object)
    lines = tuple(f"{state.upper()}: {', '.join(names)}." for state, names in groups.items())
    return Step(
        0,
        "valve-states",
        "Set every valve to its first state",
        (*lines, "Controller off. Air vent of the main open: " + vent_name(f) + "."),
        f"{len(states)} valves, cocks and drains named on this sheet",
        "One open end forgotten floods the trench; one vent forgotten traps air that can burst plastic.",
        COMMON_PRACTICE,
        "Each state called out and ticked",
    )


def _filling_text(f: Figures, filling: Filling | None, what: str) -> str:
    if filling is None:
        return f"{what}: volume {NOT_STATED}"
    held = f.flow(filling.held_m3s)
    return f"{what} {f.volume(filling.volume_m3)}; at {held}: {f.minutes(filling.time_s)} or longer"


def _held_text(f: Figures, filling: Filling | None) -> str:
    if filling is None:
        return f"Hold {speed(FILL_MS, f.system)} or less in the smallest pipe: its size is {NOT_STATED}."
    return (
        f"Hold the flow at or below {f.flow(filling.held_m3s)}: {speed(FILL_MS, f.system)} in the smallest"
        f" pipe ({filling.held_by})."
    )


_FILL_SOURCE = (
    "fill under 2 ft/s: Indian River County, FL, utility standards; 1 ft/s is the lower common figure"
)


def _connection_step(f: Figures) -> Step:
    iso = f.names("isolation") or "the isolation valve"
    work = f.work
    return Step(
        0,
        "fill-connection",
        "Fill the main slowly, up to the shut valves" if f.behind_valves else "Let water up to the assembly",
        (
            f"Crack {iso} a few degrees; the house meter's dial shows the flow."
            f" {_held_text(f, f.fill.connection)}",
            *(work.filling if work else ()),
            *(
                (f"Wait at the vent ({vent_name(f)}) until it runs without air, then close it.",)
                * f.behind_valves
            ),
            f"When the dial stands still, look at every joint up to the assembly; then open {iso} fully,"
            " slowly.",
        ),
        _filling_text(f, f.fill.connection, "Connection holds"),
        "Fast filling slams trapped air: fittings can burst. Stand clear of bends and caps.",
        _FILL_SOURCE,
    )


def _throttle(f: Figures) -> str:
    """Return the last shut-off before the main: the assembly's outlet, or the valve before the assembly."""
    return (
        f.work.throttle.format(f.assembly.name) if f.work and f.assembly else "the valve before the assembly"
    )


def _fill_step(f: Figures) -> Step:
    return Step(
        0,
        "fill",
        "Fill the main slowly",
        (
            f"{_held_text(f, f.fill.behind)} Throttle at {_throttle(f)}.",
            f"Wait at the vent ({vent_name(f)}) until it runs without air, then close it.",
            f"Then open {_throttle(f)} fully, taking at least 5 minutes.",
        ),
        _filling_text(f, f.fill.behind, "Main behind the assembly holds"),
        "A vent that stops spitting too soon is blocked, not done: stop and clear it.",
        _FILL_SOURCE,
    )


def open_step(f: Figures) -> Step:
    """Return how the assembly is opened, in its kind's own order."""
    work = f.work
    lines = (
        work.opening if work else ("The kind of assembly is not stated: do not open it before it is known.",)
    )
    return Step(
        0,
        "open-assembly",
        f"Open the assembly {f.assemblies} in its own order" + (f" ({work.code})" if work else ""),
        lines,
        f"No. 1 fully open, No. 2 cracked; static {f.pressure(f.hydraulics.static_pressure_m)} at the source"
        if work and work.shutoffs
        else f"Static {f.pressure(f.hydraulics.static_pressure_m)} at the source, before the assembly",
        "The assembly's own instructions govern where they differ. Vents and ports spit: eyes protected.",
        "common practice, no source; relief discharge while filling: tester practice; AVB hours: common code"
        " text",
    )


def _purge_step(f: Figures) -> Step:
    return Step(
        0,
        "purge",
        "Purge the air",
        (
            "Open the bleed of one valve at a time, farthest and highest first, until it runs without air;"
            " close it.",
            "Let the main stand full so that the last air dissolves before the test.",
        ),
        f"Vent first: {vent_name(f)}; then {_valves_outward(f) or NOT_STATED}",
        "Air under pressure in plastic pipe stores energy like a spring: no test while any vent still spits.",
        "standing full 24 hours: Indian River County, FL, utility standards; the rest common practice",
    )


def _valves_outward(f: Figures) -> str:
    """Return the zone valves, the one with most pipe to the source first where that was worked out."""
    studies = f.hydraulics.studies
    away = {c.valve: c.length_m for c in studies.closings} if studies else {}
    names = sorted((d.name for d in f.design.devices_of("valve")), key=natural)
    return ", ".join(sorted(names, key=lambda name: -(away.get(name) or 0.0)))


def _test_step(f: Figures) -> Step:
    rating, whose = f.weakest(main=True)
    heads = [p.told_static_m for p in f.hydraulics.pipes]
    static = max((h for h in heads if h is not None), default=None) if None not in heads else None
    pressure, time = f.fact("test pressure"), f.fact("test time")
    said = (
        f"Raise to the stated test pressure {pressure} and hold {time}."
        if pressure != NOT_STATED
        else "Test pressure and time: NOT STATED in this design; take both from the authority, in writing."
    )
    return Step(
        0,
        "pressure-test",
        "Test the main with water",
        (
            "Only water. Never air or any gas in plastic pipe.",
            said,
            f.work.pumped if f.work else "Test only what can be shut off from the house side.",
            f"Never above the weakest thing under test: {rating}" + (f" ({whose})." if whose else "."),
            *old_main(f),
            "Write down gauge no. and calibration, start and end pressure and hour, temperature, witness.",
        ),
        f"Highest static in the main {f.pressure(static)}; weakest rating stated {rating}; test"
        f" pressure {pressure}, for {time}",
        "Air or gas in plastic pipe can kill when a fitting lets go. Nobody over the trench while pressure"
        " rises.",
        "model plumbing code 312.1, 312.5 (plastic not tested with air; from memory); local tests differ"
        " widely",
        "Inspector sees the gauge",
    )
