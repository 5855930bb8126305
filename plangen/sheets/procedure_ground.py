"""The steps on the ground: permit to restored house service. `procedure_steps` gives them their numbers.

Law and standards are paraphrased and cited; what is only custom says so.
"""

from __future__ import annotations

from plangen.layout.materials import material_of
from plangen.sheets.procedure_figures import Figures
from plangen.sheets.procedure_standing import (
    new_trench,
    shut_irrigation,
    shut_off_stands,
    take_out,
    tap_stands,
    tell_occupants,
    told_count,
)
from plangen.sheets.procedure_types import COMMON_PRACTICE, NOT_STATED, Step


def before_digging(f: Figures) -> tuple[Step, ...]:
    """Return the steps from permit to shutdown notice."""
    notice = tell_occupants(f) if shut_off_stands(f) else _notice(f)
    return (_permit(f), _verify(f), _locate(f), _stake(f), notice)


def _permit(f: Figures) -> Step:
    project = f.design.project
    return Step(
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
    )


def _verify(f: Figures) -> Step:
    source = f.design.source
    measured = source.static if source else None
    static = NOT_STATED if measured is None else f"{measured.written} ({measured.provenance.told()})"
    return Step(
        0,
        "verify",
        "Check the design's inputs on site",
        (
            "Gauge the static pressure at an outside tap with no water running, and write down date and"
            " hour.",
            "Measure the meter, the service and its material. If they differ from the plan, stop and redraw.",
        ),
        f"Design: static {static}; design pressure {f.pressure(f.hydraulics.design_pressure_m)}",
        "A lower pressure than the plan's makes every pressure on these sheets wrong.",
        "landscape irrigation good-practice guides (verify connection, flow and pressure before work)",
        "Irrigator",
    )


def _locate(f: Figures) -> Step:
    return Step(
        0,
        "locate",
        "Call for locates",
        (
            "White-mark the trench lines and ask for locates (US: call 811) at least the working days ahead"
            " that the law asks.",
            "Wait until every utility has answered. Private lines (gas to a grill, yard power, old"
            " irrigation)"
            " are not located: find them by other means.",
            "Dig by hand within the tolerance zone of each mark; its width is set by state law.",
        ),
        _utilities(f),
        "Never dig by machine over a mark. Gas or power struck: leave, keep others away, call the"
        " emergency number (US: 911).",
        "state one-call law; notice times and hand-dig widths differ (e.g. Code of Ala. 37-15; N.C. 811)",
        "All utilities answered",
    )


def _stake(f: Figures) -> Step:
    new = ("new", "relocated")
    pipes = sum(p.state in new for p in f.design.pipes)
    heads, valves = (
        sum(d.state in new for d in found) for found in (f.design.heads, f.design.devices_of("valve"))
    )
    return Step(
        0,
        "stake",
        "Stake the work",
        (
            "Stake what is new of tap, isolation valve, assembly, valve boxes and heads from the two fixed"
            " corners on the connection plan; paint the trenches, flag heads and valves.",
            "Check each head against paving and walls before digging.",
        ),
        f"New: {told_count(heads, 'head')}, {told_count(valves, 'zone valve')}, {told_count(pipes, 'pipe')}",
        "A staked head that does not match the plan is moved on paper first.",
        COMMON_PRACTICE,
    )


def _notice(f: Figures) -> Step:
    project = f.design.project
    return Step(
        0,
        "notice",
        "Give notice of the shutdown",
        (
            "Ask the purveyor how long ahead it wants to be told, and tell it in time.",
            "Tell every occupant the hour and length of the shutdown; have water set aside.",
            "The purveyor alone works its main, its curb stop and its meter unless it says otherwise.",
        ),
        f"Purveyor: {project.purveyor or NOT_STATED}; address: {project.address or NOT_STATED}",
        "Medical equipment, fire sprinklers and boilers on this service must be made safe first.",
        COMMON_PRACTICE,
        "Purveyor and occupants told",
    )


def _utilities(f: Figures) -> str:
    found = [
        f"{u.kind} {u.name} depth {u.depth.written if u.depth else NOT_STATED}"
        for u in f.design.site.utilities
    ]
    return "Shown on plan: " + "; ".join(found) if found else f"Utilities on plan: {NOT_STATED}"


def open_ground(f: Figures) -> tuple[Step, ...]:
    """Return the steps from trenching to the restored house service, which stays alone where it can."""
    trench = (_trench(f),) if new_trench(f) else ()
    if shut_off_stands(f):
        return (*trench, shut_irrigation(f), *take_out(f))
    exposed = () if tap_stands(f) else (_expose(f),)
    return (*trench, *exposed, _prove_zero(f), _cut_in(f), _restore(f), *take_out(f))


def _trench(f: Figures) -> Step:
    frost = f.design.site.frost_depth
    return Step(
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
    )


def _expose(f: Figures) -> Step:
    return Step(
        0,
        "expose",
        "Expose the service",
        (
            "Uncover the service by hand and identify its material and size; past the cut uncover about 5 ft"
            " (1.5 m), so that a rigid pipe can be sprung into the tee.",
            "Stop if it is lead, asbestos cement, galvanised, or not what the plan says.",
        ),
        _service(f),
        "Lead or unknown pipe: do not cut; the purveyor decides.",
        COMMON_PRACTICE,
        "Material identified",
    )


def _prove_zero(f: Figures) -> Step:
    return Step(
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
    )


def _cut_in(f: Figures) -> Step:
    tap, iso = f.names("tap") or NOT_STATED, f.names("isolation")
    standing = tap_stands(f)
    turned = (
        f"Cut in {tap} with fittings listed for drinking water; keep open ends plugged at all times.",
        "Turn the branch of the tee up by 45 degrees, towards the depth of the new pipe. Close to the meter"
        " flow and pressure are best.",
    )
    behind = (f"Cut the branch behind {tap}, which stays; keep open ends plugged at all times.",)
    return Step(
        0,
        "cut-in",
        "Cut in the isolation valve" if standing else "Cut in the tap",
        (
            *(behind if standing else turned),
            "Wipe or swab pipe and fittings of the drinking-water side as the code asks.",
            *_plastic_service(f),
            f"Fit the isolation valve {iso} directly and leave it CLOSED: the house is back in service within"
            " the hour."
            if iso
            else "No isolation valve is drawn: without one the house stays shut until the branch is capped."
            " Stop and ask for one.",
        ),
        f"Tap {tap}; isolation {iso or NOT_STATED}",
        "No pipe cement, flux or soil may enter the drinking-water side.",
        "plumbing codes on cleaning of potable piping (section 610 of the model codes, from memory); place"
        " and turn of the tap: common practice",
        "Joint seen by inspector or purveyor where asked",
    )


def _plastic_service(f: Figures) -> tuple[str, ...]:
    """Return what is done where the tapped service would be cemented: the house waits for no cure."""
    families = {p.size.family for p in f.design.pipes if p.role == "service" and p.state != "removed"}
    if not any(material_of(family) in ("PVC", "CPVC") for family in families):
        return ()
    return (
        "The service is of a plastic that is cemented: use mechanical couplings listed for it, or keep the"
        " house shut until the cement has cured.",
    )


def _restore(f: Figures) -> Step:
    iso = f.names("isolation") or "the branch"
    return Step(
        0,
        "restore",
        "Give the house its water back",
        (
            f"With {iso} closed and a hose bibb open to let the air out, open the stop slowly; flush at that"
            " tap before any inside fixture.",
            "Look at every joint under pressure with the hole open.",
        ),
        f"House side to {f.pressure(f.hydraulics.static_pressure_m)}; irrigation side stays dry",
        "The house side is drinking water: no use before it runs clear.",
        COMMON_PRACTICE,
        "No leak at the tap",
    )


def _service(f: Figures) -> str:
    found = [
        f"{p.name} {p.nominal.written} {p.size.family} cover {p.cover.written if p.cover else NOT_STATED}"
        for p in f.design.pipes
        if p.role == "service" and p.state == "existing"
    ]
    return "Plan says: " + "; ".join(found) if found else f"Service: {NOT_STATED}"
