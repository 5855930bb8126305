"""A tiny fact vocabulary and short packs for the tests of the rule language. Lengths are given in inches."""

from __future__ import annotations

import datetime
from collections.abc import Mapping

from plangen.checking.check import check
from plangen.checking.finding import Finding
from plangen.checking.load import load_packs
from plangen.checking.packs import CheckedPack
from plangen.diagnostics.diagnostic import Diagnostic, Outcome
from plangen.facts.values import FactBase, FactField, FactType, Relation, Row, Value
from plangen.hydraulics.results import Input
from plangen.model.design import Confirmation, Waiver
from plangen.quantity.dimension import INCH_M, PSI_PA, Dimension
from plangen.quantity.quantity import Basis, Provenance
from plangen.text.source import SourceFile, SourceSet, Span

LENGTH = FactType("quantity", Dimension.LENGTH)
ROLES = ("main", "lateral", "service")
PIPE = Relation(
    "pipe",
    "a pipe",
    (
        FactField("cover", LENGTH, "earth over its top", "finished grade", small=True, tolerance_si=INCH_M),
        FactField("size", LENGTH, "nominal size", small=True),
        FactField("run", LENGTH, "its length"),
        FactField("pressure", FactType("quantity", Dimension.PRESSURE), "static pressure"),
        FactField("joints", FactType("quantity", Dimension.COUNT), "joints in it"),
        FactField("share", FactType("quantity", Dimension.RATIO), "a share"),
        FactField("role", FactType("word", None, ROLES), "what it does"),
        FactField("under", FactType("words", None, ("drive", "walk", "lawn")), "what lies over it"),
        FactField("zone", FactType("text"), "its zone"),
        FactField("sleeved", FactType("truth"), "it lies in a sleeve"),
    ),
)
ZONE = Relation(
    "zone", "a zone", (FactField("need", LENGTH, "a need"), FactField("kind", FactType("text"), "kind"))
)
SITE = Relation(
    "site",
    "the ground",
    (
        FactField("frost_depth", LENGTH, "depth of frost", small=True),
        FactField("accepted", FactType("words", None, ROLES), "roles accepted"),
        FactField("warmth", FactType("quantity", Dimension.TEMPERATURE), "warmth of the ground"),
    ),
    single=True,
)
SOURCE = Relation("source", "where water comes from", (FactField("solved", FactType("truth"), "worked out"),))
VOCABULARY = (PIPE, ZONE, SITE, SOURCE)
HEAD = """pack small {
  title "Small"
  authority "Nobody"
  edition "1"
  effective 2026-01-01
  contact "none"
  facts 1
  invented place
}
"""
TAIL = """  severity required
  why "it matters"
  fix "mend it"
  source "Test ordinance", section "1", edition "2026", read
}
"""
LIMITS = """limit least_cover 12 in "least cover", source "Test ordinance", section "2", edition "2026", read
limit accepted_roles one of main, lateral "accepted roles", source "Test ordinance", read
limit part 50 % "a part", source "Test ordinance", read
table cover_by_size "by size": up to 1 in gives 6 in, up to 2 in gives 12 in, source "Test ordinance" read
table cover_by_role "cover by role": main gives 18 in, otherwise gives 10 in, source "Test ordinance", read
"""


def rule(
    require: str, about: str = "for each pipe", name: str = "r", extra: str = "", tail: str = TAIL
) -> str:
    """Return one rule; an empty requirement leaves the line out."""
    needed = f"  require {require}\n" if require else ""
    return f'rule {name} "A rule" {{\n  {about}\n{extra}{needed}{tail}'


def read(texts: Mapping[str, str], *names: str) -> Outcome[tuple[CheckedPack, ...]]:
    """Return the packs of some texts, loaded against the tiny vocabulary."""
    sources = {n: SourceFile.of(f"{n}.rules", text) for n, text in texts.items()}
    return load_packs(names or tuple(texts), sources, VOCABULARY, "1", Span("design.plan", 0, 4))


def packs(text: str) -> tuple[CheckedPack, ...]:
    """Return the one pack of a text after the common head and limits; it must be sound."""
    outcome = read({"small": HEAD + LIMITS + text}, "small")
    assert outcome.problems == () and outcome.value is not None
    return outcome.value


def faults(text: str) -> list[Diagnostic]:
    """Return the problems of a pack with the common head and limits."""
    return list(read({"small": HEAD + LIMITS + text}, "small").problems)


def line_of(text: str, problem: Diagnostic) -> str:
    """Return the line a problem of `faults` points at."""
    files = SourceSet((SourceFile.of("small.rules", HEAD + LIMITS + text),))
    return (HEAD + LIMITS + text).split("\n")[files.place(problem.span).line - 1]


def inches(value: float | None, basis: Basis = Basis.MEASURED, name: str = "length") -> Value:
    """Return a length given in inches, resting on one input of its own."""
    return number(None if value is None else value * INCH_M, basis, name)


def psi(value: float | None, basis: Basis = Basis.MEASURED) -> Value:
    """Return a pressure given in psi."""
    return number(None if value is None else value * PSI_PA, basis, "pressure")


def number(si: float | None, basis: Basis = Basis.MEASURED, name: str = "number") -> Value:
    """Return a value in SI resting on one input."""
    if si is None:
        return Value(None, missing=(f"{name} left out",))
    return Value(si, (Input(name, f"{si:g}", Provenance(basis)),))


def row(relation: str, name: str, **values: Value | float | bool | str | tuple[str, ...] | None) -> Row:
    """Return a row; plain values rest on no input, None is not known."""
    whole = {k: v if isinstance(v, Value) else Value(v) for k, v in values.items()}
    return Row(relation, name, Span("design.plan", 0, 1), tuple(whole.items()))


def facts(*rows: Row, complete: tuple[str, ...] = ("pipe", "zone", "site")) -> FactBase:
    """Return a fact base, by default with every list whole."""
    return FactBase("1", rows, complete)


def run(
    text: str,
    *rows: Row,
    complete: tuple[str, ...] = ("pipe", "zone", "site"),
    waivers: tuple[Waiver, ...] = (),
    confirmations: tuple[Confirmation, ...] = (),
    issued: datetime.date | None = datetime.date(2026, 5, 4),
    system: str = "us",
) -> tuple[Finding, ...]:
    """Return the findings of a pack text on some rows, build-tolerance notices left out."""
    base = facts(*rows, complete=complete)
    outcome = check(packs(text), base, waivers, confirmations, issued, system)
    assert outcome.value is not None, outcome.problems
    return tuple(f for f in outcome.value if f.rule != "build-tolerance")


def status(text: str, *rows: Row, complete: tuple[str, ...] = ("pipe", "zone", "site")) -> str:
    """Return the status of the only finding; `nothing applies` where the run as a whole checked nothing."""
    outcome = check(packs(text), facts(*rows, complete=complete))
    if outcome.value is None:
        assert [p.code for p in outcome.problems] == ["PG5303"]
        return "nothing applies"
    (found,) = [f for f in outcome.value if f.rule != "build-tolerance"]
    return found.status.value
