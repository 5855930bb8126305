"""How the hazard of the connection was judged: the questions answered, then each rule's steps. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace

from plangen.checking.finding import Finding, Status
from plangen.checking.other_kinds import KindJudged
from plangen.model.design import Design
from plangen.model.parts import ASSEMBLY_KINDS
from plangen.packet.anchors import finding_anchor
from plangen.packet.code_check import headline
from plangen.packet.tables import Cell, Table, cells

# What must be answered before a hazard can be judged, in the words of the page.
QUESTIONS: tuple[tuple[str, str], ...] = (
    ("chemicals", "Is anything injected or fed into the irrigation water?"),
    ("septic", "Is there a septic tank or drain field on the lot?"),
    ("second source", "Is there a second source of water, such as a well?"),
    ("pump", "Does a pump raise the pressure downstream?"),
    ("reclaimed water", "Is reclaimed or grey water on the lot?"),
    (
        "heater expansion",
        "Where does the storage heater's water expand to, once the line can no longer flow back?",
    ),
)


# Kinds of subjects whose findings are about the hazard and about what stands against it.
_KINDS = ("question", "assembly")
_WORDS = ("backflow", "hazard", "expan")


@dataclass(frozen=True, slots=True)
class Step:
    """One rule of the chain: its verdict, what it says, and how it came to say so."""

    title: str
    words: str
    key: str
    link: str
    says: str
    steps: tuple[str, ...]


def answers_table(design: Design) -> Table:
    """Return every hazard question with its answer; a question nobody answered says so."""
    given = {a.question: "none" if a.none else a.text for a in design.answers}
    asked = [*QUESTIONS, *((q, "") for q in sorted(given) if q not in dict(QUESTIONS))]
    rows = tuple(
        cells(question, words or question, given.get(question, "not answered: not known"))
        for question, words in asked
    )
    return Table(
        "hazard-answers",
        "Hazard questions and the answers of the design",
        ("Question", "In words", "Answer"),
        rows,
    )


def kinds_table(kinds: tuple[KindJudged, ...]) -> Table:
    """Return what the rules say of each kind of assembly in the place of those designed, alike ones once."""
    alike: dict[KindJudged, list[str]] = {}
    for one in sorted(kinds, key=lambda k: list(ASSEMBLY_KINDS).index(k.kind)):
        alike.setdefault(replace(one, assembly=""), []).append(one.assembly)
    rows = tuple(
        cells(
            ASSEMBLY_KINDS[k.kind] + (", as designed" if k.here else ""),
            ", ".join(names),
            _SAYS[k.status],
            _why(k),
        )
        for k, names in alike.items()
    )
    return Table(
        "other-kinds",
        "Each kind of assembly in this place, by the rules in force",
        ("Kind", "In the place of", "Verdict", "Why"),
        rows,
        "No rule in force speaks of a kind of assembly.",
        "Judged as the place stands, with its heights, piping and answers. Another kind changes the pressures"
        " and is checked in full only when the design names it.",
    )


_SAYS = {
    Status.FALLS_SHORT: "refused",
    Status.NOT_KNOWN: "not known",
    Status.NEEDS_PERSON: "a person must look",
    Status.MEETS: "no rule refuses it",
}


def _why(kind: KindJudged) -> str:
    if kind.status is Status.NEEDS_PERSON:
        return "; ".join(title for title, _ in kind.why)
    return " ".join(f"{title}: {words}" for title, words in kind.why) or "-"


def chain(findings: tuple[Finding, ...]) -> tuple[Step, ...]:
    """Return the findings on hazard and backflow, in order: why this assembly, why no other."""
    return tuple(
        Step(
            headline(f),
            f.status.words,
            f.status.value,
            finding_anchor(f.id),
            f.message,
            f.steps,
        )
        for f in findings
        if _speaks_of_it(f) and f.status is not Status.NOT_APPLICABLE
    )


def set_aside(findings: tuple[Finding, ...]) -> tuple[Cell, ...]:
    """Return the rules on hazard and backflow that have nothing to speak about here, with links."""
    return tuple(
        Cell(headline(f), finding_anchor(f.id))
        for f in findings
        if _speaks_of_it(f) and f.status is Status.NOT_APPLICABLE
    )


def _speaks_of_it(f: Finding) -> bool:
    return f.subject_kind in _KINDS or any(word in f"{f.rule} {f.title}".lower() for word in _WORDS)
