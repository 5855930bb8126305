"""Facts of the papers: project, site, and the questions about hazards. Judges nothing."""

from __future__ import annotations

from plangen.facts.project_relations import QUESTIONS
from plangen.facts.survey import Survey
from plangen.facts.values import Row, Value
from plangen.facts.worth import given, known, row, said, stated, unknown, worked
from plangen.geometry.point import polygon_area
from plangen.model.design import Project
from plangen.model.records import NO_RECORDS
from plangen.model.site import Area, Landmark, Utility
from plangen.quantity.evidence import Input
from plangen.quantity.quantity import DECLARED, Basis, Provenance

# A device of this kind on the plan is a yes, whatever the answer says.
_SEEN_AS = {"chemicals": "injector", "pump": "pump"}
# A tank, well, area or buried line of this kind on the plan is a yes too.
_LIES_AS: dict[str, tuple[str, ...]] = {
    "septic": ("septic-tank", "septic-field", "septic"),
    "second source": ("well", "cistern"),
    "reclaimed water": ("reclaimed",),
}
# What stands between the main and the house and keeps heated water from expanding back into the main.
_CLOSERS = ("regulator", "assembly")


def project_row(survey: Survey) -> Row:
    """Return the one row of the project."""
    project = survey.design.project
    preparer = project.preparer
    return row(
        "project",
        "project",
        project.span,
        {
            "address_given": said(project.address),
            "parcel_given": said(project.parcel),
            "owner_given": said(project.owner),
            "purveyor_given": said(project.purveyor),
            "scope_given": said(project.scope),
            "preparer_named": said(preparer.name if preparer else ""),
            "licence_given": said(preparer.licence if preparer else ""),
            "licence_expiry_given": known(preparer is not None and preparer.licence_expires is not None),
            "licence_current": _licence_current(project),
            "issue_date_given": known(project.issued is not None),
            "revision_given": known(bool(project.revisions)),
            "records_given": known(survey.design.records != NO_RECORDS),
            "units": known(project.units),
        },
    )


def site_row(survey: Survey) -> Row:
    """Return the one row of the site."""
    site = survey.design.site
    return row(
        "site",
        "site",
        site.span,
        {
            "frost_depth": stated("frost depth", site.frost_depth, "the frost depth is not stated"),
            "frost_expected": frost_expected(survey),
            "lot_given": known(site.lot is not None),
            "grades_given": known(len(site.grades) >= 3),
            "chemicals": hazard(survey, "chemicals"),
            "septic": hazard(survey, "septic"),
            "second_source": hazard(survey, "second source"),
            "pump": hazard(survey, "pump"),
            "reclaimed_water": hazard(survey, "reclaimed water"),
            "expansion_control": hazard(survey, "heater expansion"),
            "house_supply_closed": _house_closed(survey),
            "sewer_located": known(any(u.kind == "sewer" for u in site.utilities)),
            "planted_area": worked(
                sum(abs(polygon_area(a.outline)) for a in site.planting), f"{len(site.planting)} areas", ()
            ),
        },
    )


def question_rows(survey: Survey) -> list[Row]:
    """Return one row for each question an author must answer."""
    rows = []
    place = survey.design.hazards_span or survey.design.site.span
    for question, asks in QUESTIONS:
        answer = survey.answers.get(question)
        value = known(answer.text or "none", "", _answer_input(survey, question)) if answer else None
        rows.append(
            row(
                "question",
                question,
                answer.span if answer else place,
                {
                    "answered": known(answer is not None, answer_words(survey, question)),
                    "none": known(answer.none) if answer else unknown(_silent(asks)),
                    "answer": value or unknown(_silent(asks)),
                    "asks": known(asks),
                },
            )
        )
    return rows


def hazard(survey: Survey, question: str) -> Value:
    """Return whether the hazard of a question is there; silence is not known, a drawn device is a yes."""
    kind = _SEEN_AS.get(question)
    for device in survey.path.devices.values():
        if kind and device.kind == kind:
            source = Input(device.name, device.label or kind, DECLARED, device.span)
            return known(True, f"{kind} {device.name} stands on the plan", source)
    site = survey.design.site
    lying: tuple[Area | Landmark | Utility, ...] = (*site.landmarks, *site.other, *site.utilities)
    for thing in lying:
        if thing.kind in _LIES_AS.get(question, ()):
            source = Input(thing.name, thing.kind.replace("-", " "), DECLARED, thing.span)
            return known(True, f"{thing.kind.replace('-', ' ')} {thing.name} is on the plan", source)
    answer = survey.answers.get(question)
    if answer is None:
        return unknown(_silent(dict(QUESTIONS)[question]))
    return known(not answer.none, answer_words(survey, question), _answer_input(survey, question))


def frost_expected(survey: Survey) -> Value:
    """Return whether the ground freezes, from the stated frost depth."""
    depth = survey.design.site.frost_depth
    if depth is None:
        return unknown("the frost depth is not stated")
    return known(depth.si > 0, f"frost depth {depth.written}", given("frost depth", depth))


def answer_words(survey: Survey, question: str) -> str:
    """Return how the author answered, in words."""
    answer = survey.answers.get(question)
    if answer is None:
        return f"the hazards do not answer: {question}"
    return f"{question}: {'none' if answer.none else answer.text}"


def _silent(asks: str) -> str:
    return f"the design does not say {asks}"


def _answer_input(survey: Survey, question: str) -> Input | None:
    answer = survey.answers.get(question)
    if answer is None:
        return None
    return Input(question, "none" if answer.none else answer.text, DECLARED, answer.span)


def _licence_current(project: Project) -> Value:
    expires = project.preparer.licence_expires if project.preparer else None
    missing = []
    if expires is None:
        missing.append("the day the preparer's licence ends is not stated")
    if project.issued is None:
        missing.append("the issue date is not stated")
    if expires is None or project.issued is None:
        return unknown(*missing)
    declared = Provenance(Basis.DECLARED)
    return known(
        expires >= project.issued,
        f"the licence ends {expires.isoformat()}, the plan is issued {project.issued.isoformat()}",
        Input("licence ends", expires.isoformat(), declared, project.span),
        Input("issued", project.issued.isoformat(), declared, project.span),
    )


def _house_closed(survey: Survey) -> Value:
    house = survey.design.house
    if house is None:
        return unknown("where the house takes its water is not stated")
    closed = survey.path.guarded(house.name, _CLOSERS)
    if closed is None:
        return unknown(f"no pipe leads from the supply to the house {house.name}")
    words = "passes" if closed else "passes no"
    return known(closed, f"the way to the house {words} check, regulator or assembly")
