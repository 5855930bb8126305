"""Rows of the code-check summary.

What must be looked at has a row for each object. What meets, and what does not apply, has one row for each
rule: how many objects were asked, and the one with the least margin.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import groupby

from plangen.annotation.markers import mark_of
from plangen.checking.finding import Finding, RuleSource, Status
from plangen.sheets.tables import Row

ORDER = (
    Status.FALLS_SHORT,
    Status.NOT_KNOWN,
    Status.NEEDS_PERSON,
    Status.WAIVED,
    Status.MEETS,
    Status.NOT_APPLICABLE,
)
_BY_RULE = (Status.MEETS, Status.NOT_APPLICABLE)
_MOST_PLACES = 4  # more places than this, and the rest is counted: the report lists them all
SourceKey = tuple[str, str, str]  # title, edition, how it was verified


def source_keys(findings: Iterable[Finding]) -> tuple[SourceKey, ...]:
    """Return each law or standard that the findings rest on, once, in the order of titles."""
    return tuple(sorted({_key(s) for f in findings for s in f.sources}))


def attention_rows(findings: Iterable[Finding], keys: Sequence[SourceKey]) -> tuple[Row, ...]:
    """Return a row for each finding that falls short, is not known, needs a person or is waived."""
    shown = [f for f in findings if f.status not in _BY_RULE]
    shown.sort(key=lambda f: (ORDER.index(f.status), f.severity != "required", f.number))
    return tuple(
        Row(
            (
                mark_of(f),
                f.status.words,
                f.severity,
                f"{f.title}. {_words(f)}",
                f.subject,
                f.measured.words if f.measured else "-",
                limit_words(f),
                f.margin.words if f.margin else "-",
                _cited(f, keys),
                drawn_words(f.drawn_on),
            ),
            f.id,
        )
        for f in shown
    )


def met_rows(findings: Iterable[Finding], keys: Sequence[SourceKey]) -> tuple[Row, ...]:
    """Return a row for each rule that meets, with the object that has the least margin."""
    rows = []
    for found in _by_rule(findings, Status.MEETS):
        tightest = min(found, key=_tightness)
        rows.append(
            Row(
                (
                    str(tightest.number),
                    "req." if tightest.severity == "required" else "adv.",
                    tightest.title,
                    str(len(found)),
                    tightest.subject,
                    tightest.measured.words if tightest.measured else "-",
                    limit_words(tightest),
                    tightest.margin.words if tightest.margin else "-",
                    _cited(tightest, keys),
                ),
                tightest.id,
            )
        )
    return tuple(rows)


def idle_rows(findings: Iterable[Finding], keys: Sequence[SourceKey]) -> tuple[Row, ...]:
    """Return a row for each rule that does not apply, with the reason."""
    rows = []
    for found in _by_rule(findings, Status.NOT_APPLICABLE):
        first = found[0]
        reason = first.message.partition("does not apply, ")[2] or first.message
        rows.append(
            Row((str(first.number), first.title, str(len(found)), reason, _cited(first, keys)), first.id)
        )
    return tuple(rows)


def source_rows(keys: Sequence[SourceKey]) -> tuple[Row, ...]:
    """Return the list of sources that the other tables call by number."""
    return tuple(
        Row((str(n), title, edition or "-", verified), f"source-{n}")
        for n, (title, edition, verified) in enumerate(keys, 1)
    )


def drawn_words(places: Sequence[tuple[str, str]]) -> str:
    """Return the sheets and border zones where an object is drawn; of many the first, and how many more."""
    words = [f"{sheet} {zone}".strip() for sheet, zone in places]
    if len(words) > _MOST_PLACES:
        words = [*words[: _MOST_PLACES - 1], f"+{len(words) - _MOST_PLACES + 1} more, see report"]
    return ", ".join(words) or "-"


def limit_words(finding: Finding) -> str:
    """Return what a finding's measure is held to."""
    parts = []
    if finding.at_least:
        parts.append(f"at least {finding.at_least.words}")
    if finding.at_most:
        parts.append(f"at most {finding.at_most.words}")
    return ", ".join(parts) or "-"


def _by_rule(findings: Iterable[Finding], status: Status) -> list[list[Finding]]:
    found = sorted((f for f in findings if f.status is status), key=lambda f: (f.pack, f.rule, f.number))
    groups = [list(group) for _, group in groupby(found, key=lambda f: (f.pack, f.rule))]
    return sorted(groups, key=lambda group: group[0].number)


def _tightness(finding: Finding) -> tuple[bool, float, int]:
    """What has no margin in numbers comes last."""
    margin = finding.margin.si if finding.margin else None
    return margin is None, margin or 0.0, finding.number


def _words(finding: Finding) -> str:
    if finding.status is Status.NEEDS_PERSON and finding.look_at:
        return finding.look_at[:1].upper() + finding.look_at[1:]
    if finding.status is Status.NOT_KNOWN and finding.missing:
        return f"Missing: {', '.join(finding.missing)}"
    if finding.status is Status.WAIVED and finding.waived_by:
        return f"Waived: {finding.waived_by}"
    return finding.message


def _key(source: RuleSource) -> SourceKey:
    return source.title, source.edition, source.verified


def _cited(finding: Finding, keys: Sequence[SourceKey]) -> str:
    """The sources by their number in the list, each with its section."""
    cited = (f"[{keys.index(_key(s)) + 1}] {s.section}".strip() for s in finding.sources)
    return "; ".join(cited) or "-"
