"""What the packs ask of a statement of compliance, and the blanks to sign. Pure.

No wording is printed that no pack carries, and a pack's is restated: the authority's own is used on its form.
"""

from __future__ import annotations

from plangen.checking.duties import NOT_KNOWN
from plangen.packet.anchors import finding_anchor
from plangen.packet.code_check import headline
from plangen.packet.contents import Contents
from plangen.packet.duties import of_kind, source_of
from plangen.packet.tables import Cell, Fact, Form, Table, blank

_WORDS = ("statement of compliance", "compliance statement", "sealed and signed", "signed by the designer")


def _asked(contents: Contents) -> Table:
    """Return the findings that speak of a statement."""
    asked = [
        f for f in contents.findings if any(w in f"{f.title} {f.look_at} {f.message}".lower() for w in _WORDS)
    ]
    rows = tuple(
        (
            Cell(headline(f), finding_anchor(f.id)),
            Cell(f.status.words),
            Cell("; ".join(" ".join(x for x in (s.title, s.section) if x) for s in f.sources)),
        )
        for f in asked
    )
    columns, empty = ("Rule", "Status", "Source"), "The packs used ask for no statement."
    return Table("compliance-asked", "What the packs ask", columns, rows, empty)


def _titles(contents: Contents) -> str:
    return ", ".join(p.title for p in contents.packs)


def compliance_form(contents: Contents) -> Form:
    """Return what is stated, the findings that speak of a statement, and who would sign it."""
    preparer = contents.design.project.preparer
    stated = of_kind(contents.duties, "compliance")
    return Form(
        id="compliance",
        title="Statement of compliance",
        intro=(
            "What is to be stated stands below as the rule packs restate it: where the authority has its own"
            " wording or its own form, that is used."
            if stated
            else f"Wording: {NOT_KNOWN}. The rule packs used ({_titles(contents)}) carry"
            " none, so none is printed.",
            "What this packet says is this: it was made from the design text with digest"
            f" {contents.digest[:12]} and checked against the named packs. It is not a certification, an"
            " approval or a substitute for review.",
        ),
        tables=(_asked(contents),),
        groups=(
            (
                "What is stated",
                tuple(Fact(f"By {d.pack}", d.words, source_of(d)) for d in stated)
                or (blank("Wording of the authority"),),
            ),
            (
                "Who would sign",
                (
                    Fact("Name", preparer.name if preparer else ""),
                    Fact("Licence", preparer.licence if preparer else ""),
                ),
            ),
        ),
        sign=("Signature, seal and date of the licensed person",),
    )
