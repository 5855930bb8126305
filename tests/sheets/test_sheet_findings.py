"""Findings on the sheets: what they add, and that they move nothing."""

from __future__ import annotations

from dataclasses import replace

from plangen.annotation.annotate import NOT_FOR_CONSTRUCTION, annotate
from plangen.checking.finding import Finding, Measure, RuleSource, Status
from plangen.sheets.marks import Group, SheetSet
from plangen.text.source import Span
from tests.sheets.sheet_set import composed, groups, sheet, texts

_SPAN = Span("design.plan", 0, 1)
_OURS = ("findings", "status")


def _finding(number: int, status: Status, subject: str, severity: str = "required") -> Finding:
    return Finding(
        f"rule-{number}/{subject}", number, f"rule-{number}", "quillmoor", "A height", status, severity,
        "assembly", subject, "Measured.", _SPAN, _SPAN, Measure("16.9 in"), Measure("12 in"),
        sources=(RuleSource("Quillmoor Ordinance", "4-2", "2026", "read"),),
    )  # fmt: skip


def _base_marks(found: SheetSet, sheet_id: str) -> list[Group]:
    marks = [g for g in sheet(found, sheet_id).marks if g.role not in _OURS]
    # the total of sheets may grow; its texts change and nothing else does
    return [g for top in marks for g in groups(top) if g.role != "sheet-total" and not _holds_total(g)]


def _holds_total(group: Group) -> bool:
    return any(g.role == "sheet-total" for g in groups(group))


def _words(found: SheetSet, sheet_id: str) -> str:
    return " ".join(t.text for g in sheet(found, sheet_id).marks for t in texts(g))


def test_markers_show_what_does_not_meet_and_move_nothing() -> None:
    base = composed()[1]
    findings = (
        _finding(1, Status.FALLS_SHORT, "BF1"),
        _finding(2, Status.MEETS, "V1"),
        _finding(3, Status.NEEDS_PERSON, "H11", "advisory"),
    )
    found = annotate(base, findings)
    markers = {g.object for top in sheet(found, "LI101").marks for g in groups(top) if g.role == "finding"}
    assert markers == {"BF1", "H11"}
    for page in base.sheets:
        assert _base_marks(found, page.id) == _base_marks(base, page.id)
        assert sheet(found, page.id).inventory == page.inventory


def test_a_required_shortfall_or_unknown_stops_construction_on_every_sheet() -> None:
    base = composed()[1]
    for status in (Status.FALLS_SHORT, Status.NOT_KNOWN):
        found = annotate(base, (_finding(1, status, "BF1"),))
        assert all(NOT_FOR_CONSTRUCTION in _words(found, page.id) for page in found.sheets)
    found = annotate(
        base, (_finding(1, Status.NEEDS_PERSON, "BF1"), _finding(2, Status.FALLS_SHORT, "V1", "advisory"))
    )
    assert not any(NOT_FOR_CONSTRUCTION in _words(found, page.id) for page in found.sheets)


def test_the_summary_lists_every_rule_and_counts_its_sheets() -> None:
    base = composed()[1]
    statuses = tuple(Status)
    findings = tuple(_finding(n, statuses[n % len(statuses)], "BF1") for n in range(1, 121))
    found = annotate(base, findings)
    pages = [page.id for page in found.sheets if page.id.startswith("LI8")]
    assert pages == [f"LI80{n}" for n in range(1, len(pages) + 1)] and len(pages) > 1
    rows = {
        g.object
        for page in pages
        for top in sheet(found, page).marks
        for g in groups(top)
        if g.role == "table-row"
    }
    assert {f.id for f in findings} <= rows  # each of them is of a rule of its own
    total = len(found.sheets)
    for number, page in enumerate(found.sheets, 1):
        assert f"SHEET {number} OF {total}" in _words(found, page.id)
        assert page.id in _words(found, page.id)


def test_a_rule_met_by_many_objects_has_one_row_with_the_least_margin() -> None:
    base = composed()[1]
    met = tuple(
        replace(
            _finding(n, Status.MEETS, f"H{n}"),
            rule="spacing",
            id=f"spacing/H{n}",
            margin=Measure(f"{n} in", n * 0.0254),
        )
        for n in (7, 3, 5)
    )
    found = annotate(
        base, (*met, _finding(9, Status.FALLS_SHORT, "BF1"), _finding(10, Status.FALLS_SHORT, "V1"))
    )
    rows = [
        (g.object, [t.text for t in texts(g)])
        for top in sheet(found, "LI801").marks
        for g in groups(top)
        if g.role == "table-row"
    ]
    spacing = [cells for name, cells in rows if name.startswith("spacing/")]
    assert len(spacing) == 1 and "H3" in spacing[0] and "3" in spacing[0] and "3 in" in spacing[0]
    assert {"rule-9/BF1", "rule-10/V1"} <= {name for name, _ in rows}


def test_the_required_value_stands_beside_the_provided_one_and_is_the_findings_own() -> None:
    base = composed()[1]
    # any number: the sheet letters what the rule's limit says and has none of its own
    for words, si in (("12 in", 0.3048), ("17 in", 0.4318)):
        asked = replace(
            _finding(1, Status.FALLS_SHORT, "BF1"),
            fact="height_above_highest_outlet",
            at_least=Measure(words, si),
        )
        assert f"REQUIRED AT LEAST {words}: FALLS SHORT" in " ".join(
            _words(annotate(base, (asked,)), "LI501").split()
        )
    assert "REQUIRED AT LEAST" not in _words(base, "LI501")
