"""What the packs ask of a statement of compliance, and the blanks to sign. Pure.

No wording is printed that no pack carries: the authority's own wording is used on its own form.
"""

from __future__ import annotations

from plangen.packet.anchors import finding_anchor
from plangen.packet.code_check import headline
from plangen.packet.contents import Contents
from plangen.packet.tables import Cell, Fact, Form, Table, blank

_WORDS = ("statement of compliance", "compliance statement", "sealed and signed", "signed by the designer")


def compliance_form(contents: Contents) -> Form:
    """Return the findings that speak of a statement, and who would sign it."""
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
    preparer = contents.design.project.preparer
    packs = ", ".join(p.title for p in contents.packs)
    return Form(
        id="compliance",
        title="Statement of compliance",
        intro=(
            f"The rule packs used ({packs}) carry no wording of a statement, so none is printed: the"
            " authority's own wording goes here or on its own form.",
            "What this packet says is this: it was made from the design text with digest"
            f" {contents.digest[:12]} and checked against the named packs. It is not a certification, an"
            " approval or a substitute for review.",
        ),
        tables=(
            Table(
                "compliance-asked",
                "What the packs ask",
                ("Rule", "Status", "Source"),
                rows,
                "The packs used ask for no statement.",
            ),
        ),
        groups=(
            (
                "Who would sign",
                (
                    Fact("Name", preparer.name if preparer else ""),
                    Fact("Licence", preparer.licence if preparer else ""),
                    blank("Wording of the authority"),
                ),
            ),
        ),
        sign=("Signature, seal and date of the licensed person",),
    )
