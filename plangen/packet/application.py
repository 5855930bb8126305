"""What a permit form asks for, as far as the design says it; what it does not say stays visible. Pure."""

from __future__ import annotations

from collections.abc import Iterable

from plangen.checking.duties import Duty
from plangen.checking.finding import Finding
from plangen.model.design import Design
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.model.work import STEP_NAMES, Doer, doers_of, steps_in_order
from plangen.packet.contents import Contents
from plangen.packet.duties import duty_facts
from plangen.packet.tables import Fact
from plangen.packet.tell import Tell, basis
from plangen.quantity.dimension import Dimension
from plangen.quantity.quantity import Quantity

_AREA = Dimension.AREA


def application(contents: Contents) -> tuple[tuple[str, tuple[Fact, ...]], ...]:
    """Return the groups of the application data, each a heading and its facts."""
    design, tell = contents.design, Tell(contents.units)
    return (
        ("The place and the people", _people(design)),
        ("Forms and fees", forms_and_fees(contents.duties)),
        ("The work", _work(design)),
        ("Who does which step", _steps(contents)),
        ("The water", _water(contents, tell)),
        ("The backflow assembly", _assembly(design)),
        ("The system", _system(contents, tell)),
    )


def forms_and_fees(duties: Iterable[Duty]) -> tuple[Fact, ...]:
    """Return the authority's own forms and fees as its pack tells them."""
    held = tuple(duties)
    return (*duty_facts(held, "form", "Form"), *duty_facts(held, "fee", "Fee"))


def _people(design: Design) -> tuple[Fact, ...]:
    project, preparer = design.project, design.project.preparer
    expires = preparer.licence_expires.isoformat() if preparer and preparer.licence_expires else ""
    return (
        Fact("Address", project.address),
        Fact("Parcel", project.parcel),
        Fact("Owner", project.owner),
        Fact("Prepared by", preparer.name if preparer else ""),
        Fact("Firm", preparer.firm if preparer else ""),
        Fact("Licence", preparer.licence if preparer else ""),
        Fact("Licence expires", expires),
        Fact("Telephone", preparer.phone if preparer else ""),
    )


def _work(design: Design) -> tuple[Fact, ...]:
    project = design.project
    last = project.revisions[-1] if project.revisions else None
    return (
        Fact("Project", project.title),
        Fact("Scope", project.scope),
        Fact("Jurisdiction packs", ", ".join(project.jurisdictions)),
        Fact("Permit number", project.permit),
        Fact("Issued", project.issued.isoformat() if project.issued else ""),
        Fact("Revision", f"{last.label}, {last.date.isoformat()}: {last.text}" if last else ""),
    )


def _steps(contents: Contents) -> tuple[Fact, ...]:
    """Return for each step of the work in this design who does it, and how the licence rules judge it."""
    design = contents.design
    return tuple(
        Fact(
            STEP_NAMES[step],
            "; ".join(_doer(d) for d in doers_of(design, step)),
            "; ".join(
                _judged(f) for f in contents.findings if f.subject_kind == "work" and f.subject == step
            ),
        )
        for step in steps_in_order(design)
    )


def _judged(finding: Finding) -> str:
    missing = f" ({', '.join(finding.missing)})" if finding.missing else ""
    return f"{finding.rule}: {finding.status.words}{missing}"


def _doer(doer: Doer) -> str:
    words = [doer.name, *(t.replace("-", " ") for t in doer.trades)]
    words.append(f"licence {doer.licence}" if doer.licence else "no licence stated")
    words.append(f"ends {doer.expires.isoformat()}" if doer.expires else "")
    return ", ".join(w for w in words if w)


def _quantity(label: str, quantity: Quantity | None) -> Fact:
    return Fact(label, quantity.written if quantity else "", basis(quantity))


def _water(contents: Contents, tell: Tell) -> tuple[Fact, ...]:
    design, hydraulics = contents.design, contents.hydraulics
    source = design.source
    meters = design.devices_of("meter")
    service = [p for p in design.pipes if p.role == "service"]
    sizes = sorted({f"{p.size.family} {p.nominal.written}" for p in service})
    used = tell.pressure(hydraulics.design_pressure_m) if hydraulics.design_pressure_m is not None else ""
    return (
        Fact("Water purveyor", design.project.purveyor),
        Fact("Meter", ", ".join(f"{m.name} {m.size.written if m.size else ''}".strip() for m in meters)),
        Fact("Service line", ", ".join(sizes)),
        _quantity("Static pressure", source.static if source else None),
        _quantity("Lowest pressure", source.lowest if source else None),
        Fact("Pressure used for the design", used, hydraulics.pressure_basis),
        _quantity("House demand allowed for", design.house.demand if design.house else None),
    )


def _assembly(design: Design) -> tuple[Fact, ...]:
    found = design.devices_of("assembly")
    if not found:
        return (Fact("Assembly", ""),)
    facts: list[Fact] = []
    for assembly in found:
        part = assembly.part
        kind = assembly.assembly_kind or (part.assembly_kind if part else "")
        listing = assembly.listing or (part.listing if part else "")
        mark = assembly.name
        if assembly.state == "removed":
            facts.append(Fact(f"{mark}: kind", f"{ASSEMBLY_KINDS.get(kind, kind)}, taken out"))
            continue
        facts += [
            Fact(f"{mark}: kind", ASSEMBLY_KINDS.get(kind, kind)),
            _quantity(f"{mark}: size", assembly.size),
            Fact(f"{mark}: serial number", assembly.serial),
            Fact(f"{mark}: listing", listing),
            _quantity(f"{mark}: height above grade", assembly.height),
            _quantity(f"{mark}: clearance to the wall", assembly.wall_clearance),
            Fact(f"{mark}: protection from frost", assembly.insulation or assembly.enclosure),
            Fact(f"{mark}: drain", assembly.drain),
        ]
    return tuple(facts)


def _system(contents: Contents, tell: Tell) -> tuple[Fact, ...]:
    design = contents.design
    control = design.control
    kinds = sorted({h.part.kind for h in design.heads})
    counts = ", ".join(f"{sum(h.part.kind == k for h in design.heads)} {k}" for k in kinds)
    ground = sum(c.ground_m2 for c in contents.layout.coverage)
    sensors = ", ".join(f"{s.kind} {s.name}" for s in control.sensors) if control else ""
    watered = tell.value(ground, _AREA) if contents.layout.coverage else ""
    return (
        Fact(
            "Zones", f"{len(design.zones)}: {', '.join(z.name for z in design.zones)}" if design.zones else ""
        ),
        Fact("Heads", f"{len(design.heads)} ({counts})" if counts else ""),
        Fact("Drip areas", str(len(design.drips)) if design.drips else ""),
        Fact("Ground watered", watered),
        Fact("Controller", f"{control.name}, {control.place}".rstrip(", ") if control else ""),
        Fact("Sensors", sensors),
    )
