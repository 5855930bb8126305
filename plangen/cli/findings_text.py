"""The result of `check` for reading: findings by status, what was measured, the tally. Text only."""

from __future__ import annotations

from plangen.build.pipeline import Checked, Run
from plangen.checking.finding import Finding, Measure, Status
from plangen.cli.colour import Paint
from plangen.text.source import SourceSet

# Worst first: what a reader must act on stands on top.
ORDER = (
    (Status.FALLS_SHORT, "red", "X"),
    (Status.NOT_KNOWN, "yellow", "?"),
    (Status.NEEDS_PERSON, "blue", "!"),
    (Status.WAIVED, "yellow", "~"),
    (Status.MEETS, "green", "+"),
    (Status.NOT_APPLICABLE, "dim", "-"),
)
CAUTION = (
    "This is a check of the text against the named rule packs. It is not an approval or a certification:"
    " local code, the water purveyor and licensed practice decide."
)


def run_text(run: Run, checked: Checked, prefix: str, paint: Paint) -> str:
    """Return the whole result of one design as text."""
    project = checked.design.project
    packs = ", ".join(f"{p.name} ({p.edition})" if p.edition else p.name for p in checked.packs)
    lines = [paint(f"{project.title}: {prefix}{run.name}", "bold"), f"rule packs: {packs}"]
    for failure in checked.hydraulics.failures:
        lines.append(paint(f"water not solved, case {failure.case}: {failure.message}", "red"))
    for status, colour, shape in ORDER:
        group = [f for f in checked.findings if f.status is status]
        if group:
            lines += ["", paint(f"[{shape}] {status.words.upper()}: {len(group)}", "bold", colour)]
            for finding in group:
                lines += _finding(finding, run.sources, prefix, paint)
    lines += ["", paint(tally(checked.findings), "bold"), verdict(checked.findings), CAUTION]
    return "\n".join(lines) + "\n"


def _finding(finding: Finding, sources: SourceSet, prefix: str, paint: Paint) -> list[str]:
    place = sources.place(finding.at)
    weight = "" if finding.severity == "required" else f" ({finding.severity})"
    head = f"  {paint(finding.rule, 'bold')}  {finding.subject}{weight}"
    where = f"{prefix}{place.file}:{place.line}:{place.column}"
    figures = figures_text(finding)
    if finding.status in (Status.MEETS, Status.NOT_APPLICABLE):
        told = figures or finding.message
        return [f"{head}  {told}  {paint(where, 'dim')}"]
    lines = [
        head,
        f"      {finding.title}: {finding.message}" if finding.message else f"      {finding.title}",
    ]
    if figures:
        lines.append(f"      {figures}")
    lines += [f"      {text}" for text in reasons(finding)]
    drawn = ", ".join(f"{sheet} {zone}".strip() for sheet, zone in finding.drawn_on)
    lines.append(f"      at {where}" + (f"; drawn on {drawn}" if drawn else ""))
    return lines


def reasons(finding: Finding) -> list[str]:
    """Return the lines that say what is missing, who waived, what to look at and how to mend it."""
    lines = []
    if finding.missing:
        lines.append(f"not known: {', '.join(finding.missing)}")
    if finding.waived_by:
        lines.append(f"waived by {finding.waived_by}")
    if finding.look_at:
        lines.append(f"look at: {finding.look_at}")
    if finding.remedy:
        lines.append(f"to mend: {finding.remedy}")
    return lines


def figures_text(finding: Finding) -> str:
    """Return measured value, limits and margin on one line, or nothing."""
    parts = []
    for word, measure in (
        ("measured", finding.measured),
        ("at least", finding.at_least),
        ("at most", finding.at_most),
        ("margin", finding.margin),
    ):
        if measure is not None:
            parts.append(f"{word} {signed(measure) if word == 'margin' else measure.words}")
    return "; ".join(parts)


def signed(margin: Measure) -> str:
    """Return a margin with its sign."""
    return (
        f"+{margin.words}"
        if margin.si is not None and margin.si > 0 and margin.words[:1] != "+"
        else margin.words
    )


def tally(findings: tuple[Finding, ...]) -> str:
    """Return the count of every status on one line; none is left out, also at nought."""
    counts = [(status, sum(f.status is status for f in findings)) for status, _, _ in ORDER]
    return f"{len(findings)} findings: " + ", ".join(f"{count} {status.words}" for status, count in counts)


def failing(findings: tuple[Finding, ...]) -> int:
    """Return how many required findings fall short or are not known."""
    bad = (Status.FALLS_SHORT, Status.NOT_KNOWN)
    return sum(f.severity == "required" and f.status in bad for f in findings)


def verdict(findings: tuple[Finding, ...]) -> str:
    """Return the result in one sentence."""
    count = failing(findings)
    if count:
        falls = "finding falls" if count == 1 else "findings fall"
        return f"Result: {count} required {falls} short or cannot be told."
    persons = sum(f.status is Status.NEEDS_PERSON for f in findings)
    more = f" {persons} still {'needs' if persons == 1 else 'need'} a person." if persons else ""
    return f"Result: nothing required falls short or is unknown.{more}"
