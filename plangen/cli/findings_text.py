"""The result of `check` for reading: findings by status, what was measured, the tally. Text only."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from plangen.build.pipeline import Checked, Run
from plangen.checking.finding import Finding, Measure, Status
from plangen.checking.open_causes import open_causes, told_once
from plangen.cli.colour import Paint
from plangen.cli.open_causes_text import cause_lines
from plangen.cli.unsettled_values import UnsettledValues, waits
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
# Nobody has to act on these: one line for each rule.
_QUIET = (Status.MEETS, Status.NOT_APPLICABLE)
CAUTION = (
    "This is a check of the text against the named rule packs. It is not an approval or a certification:"
    " local code, the water purveyor and licensed practice decide."
)


def run_text(run: Run, checked: Checked, prefix: str, paint: Paint) -> str:
    """Return the whole result of one design as text."""
    project = checked.design.project
    packs = ", ".join(f"{p.name} ({p.edition})" if p.edition else p.name for p in checked.packs)
    lines = [paint(f"{project.title}: {prefix}{run.name}", "bold"), f"rule packs: {packs}"]
    unsettled = UnsettledValues.of(checked.findings)
    causes = open_causes(checked.findings, checked.design)
    once = told_once(causes)
    for failure in checked.hydraulics.failures:
        case = f", case {failure.case}" if failure.case else ""
        lines.append(paint(f"water not solved{case}: {failure.message}", "red"))
    for status, colour, heading, group in _groups(checked.findings):
        if group:
            lines += ["", paint(heading, "bold", colour)]
            if status is Status.NOT_APPLICABLE:
                lines += _by_reason(group, run.sources, prefix, paint)
            elif status in _QUIET:
                lines += _by_rule(group, run.sources, prefix, paint)
            else:
                if status is Status.NOT_KNOWN:
                    lines += [x for c in causes for x in cause_lines(c, run.sources, prefix, paint)]
                acted_on = [f for f in group if not waits(f) and f.id not in once]
                lines += [line for f in acted_on for line in _finding(f, run.sources, prefix, paint)]
                lines += _resting(group, unsettled, run.sources, prefix, paint)
    lines += _unsettled(unsettled, run.sources, prefix, paint)
    lines += ["", paint(tally(checked.findings), "bold"), verdict(checked.findings), CAUTION]
    return "\n".join(lines) + "\n"


def _groups(findings: tuple[Finding, ...]) -> Iterator[tuple[Status, str, str, list[Finding]]]:
    """Yield status, colour, heading and findings of each group; what advice falls short stands by itself."""
    for status, colour, shape in ORDER:
        group = [f for f in findings if f.status is status]
        required = [f for f in group if f.severity == "required"]
        count = f"{status.words.upper()}: {len(group)}"
        if status is Status.FALLS_SHORT:
            advisory = [f for f in group if f.severity != "required"]
            yield status, colour, f"[{shape}] {count} ({len(required)} required)", required
            yield status, "yellow", f"[{shape.lower()}] ADVISORY, {status.words}: {len(advisory)}", advisory
        elif status is Status.NOT_KNOWN:
            yield status, colour, f"[{shape}] {count} ({len(required)} required)", group
        else:
            yield status, colour, f"[{shape}] {count}", group


def _by_rule(group: list[Finding], sources: SourceSet, prefix: str, paint: Paint) -> list[str]:
    """Return one line for each rule that asks nothing of anybody, with its tightest object."""
    lines = []
    for rule in dict.fromkeys(f.rule for f in group):
        found = [f for f in group if f.rule == rule]
        with_margin = [f for f in found if f.margin is not None and f.margin.si is not None]
        one = min(with_margin, key=_margin_si) if with_margin else found[0]
        told = figures_text(one) or one.message
        count = f"{len(found)} objects, tightest {one.subject}: " if len(found) > 1 and with_margin else ""
        if len(found) > 1 and not with_margin:
            told, count = ", ".join(f.subject for f in found[:6]), f"{len(found)} objects: "
            told += f" and {len(found) - 6} more" if len(found) > 6 else ""
        subject = "" if count or not one.subject else f"{one.subject}  "
        lines.append(
            f"  {paint(rule, 'bold')}  {subject}{count}{told}{paint(_where(one, sources, prefix), 'dim')}"
        )
    return lines


def _by_reason(group: list[Finding], sources: SourceSet, prefix: str, paint: Paint) -> list[str]:
    """Return the rules that do not apply: those of one reason together, for a new design has many of them."""
    lines = []
    for message in dict.fromkeys(f.message for f in group):
        found = [f for f in group if f.message == message]
        rules = list(dict.fromkeys(f.rule for f in found))
        if len(rules) == 1:
            lines += _by_rule(found, sources, prefix, paint)
            continue
        lines.append(f"  {message.rstrip('.')}: {len(rules)} rules")
        told = textwrap.wrap(", ".join(rules), 100, break_on_hyphens=False)
        lines += [f"      {line}" for line in told]
    return lines


def _resting(
    group: list[Finding], unsettled: UnsettledValues, sources: SourceSet, prefix: str, paint: Paint
) -> list[str]:
    """Return two lines for each rule that only waits for somebody to vouch for values."""
    lines = []
    resting = [f for f in group if waits(f)]
    for rule in dict.fromkeys(f.rule for f in resting):
        found = [f for f in resting if f.rule == rule]
        lines += _by_rule(found, sources, prefix, paint)
        names = f" ({', '.join(f.subject for f in found)})" if len(found) > 1 else ""
        lines.append(f"      rests on {unsettled.numbers(found)} of those listed below{names}")
    return lines


def _unsettled(unsettled: UnsettledValues, sources: SourceSet, prefix: str, paint: Paint) -> list[str]:
    listed = unsettled.lines(sources, prefix)
    if not listed:
        return []
    heading = paint(f"VALUES THAT CANNOT DECIDE YET: {len(listed)}", "bold", "blue")
    told = (
        "measure them, or name the data sheet, drawing or standard they are from; or have the rules confirmed"
    )
    return ["", heading, *listed, f"      to settle: {told}"]


def _margin_si(finding: Finding) -> float:
    return finding.margin.si if finding.margin is not None and finding.margin.si is not None else 0.0


def _where(finding: Finding, sources: SourceSet, prefix: str) -> str:
    place = sources.place(finding.at)
    return f"  {prefix}{place.file}:{place.line}:{place.column}"


def _finding(finding: Finding, sources: SourceSet, prefix: str, paint: Paint) -> list[str]:
    weight = "" if finding.severity == "required" else f" ({finding.severity})"
    lines = [f"  {paint(finding.rule, 'bold')}  {finding.subject or 'design'}{weight}"]
    lines.append(f"      {finding.title}: {finding.message}" if finding.message else f"      {finding.title}")
    lines += [f"      {text}" for text in (figures_text(finding), *reasons(finding)) if text]
    drawn = ", ".join(f"{sheet} {zone}".strip() for sheet, zone in finding.drawn_on)
    where = _where(finding, sources, prefix).strip()
    lines.append(f"      at {where}" + (f"; drawn on {drawn}" if drawn else ""))
    return lines


def reasons(finding: Finding) -> list[str]:
    """Return the lines that say what is missing, who waived, what to look at and how to mend or settle it.

    What the message says already is not said again.
    """
    lines = []
    if any(m not in finding.message for m in finding.missing):
        lines.append(f"not known: {', '.join(finding.missing)}")
    if finding.waived_by:
        lines.append(f"waived by {finding.waived_by}")
    if finding.look_at and finding.look_at.lower() not in finding.message.lower():
        lines.append(f"look at: {finding.look_at}")
    if finding.remedy and finding.status not in _QUIET:
        lines.append(f"{'to mend' if finding.told else 'to settle'}: {finding.remedy}")
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


def is_failing(finding: Finding) -> bool:
    """Return whether a finding is required and falls short or is not known."""
    return finding.severity == "required" and finding.status in (Status.FALLS_SHORT, Status.NOT_KNOWN)


def failing(findings: tuple[Finding, ...]) -> int:
    """Return how many required findings fall short or are not known."""
    return sum(map(is_failing, findings))


def verdict(findings: tuple[Finding, ...]) -> str:
    """Return the result in one sentence."""
    count = failing(findings)
    if count:
        falls = "finding falls" if count == 1 else "findings fall"
        return f"Result: {count} required {falls} short or cannot be told."
    persons = sum(f.status is Status.NEEDS_PERSON for f in findings)
    more = f" {persons} still {'needs' if persons == 1 else 'need'} a person." if persons else ""
    return f"Result: nothing required falls short or is unknown.{more}"
