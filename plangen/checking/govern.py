"""Several packs on one design: the stricter bound of the same rule governs, and the other is listed.

In: drafts of all packs. Out: drafts with one finding for each rule and subject where the bounds compare, and
a finding for a person where two bounds cannot both hold.
"""

from __future__ import annotations

from dataclasses import replace

from plangen.checking import terms as c
from plangen.checking.compose_finding import Draft
from plangen.checking.finding import Finding, OtherLimit, RuleSource, Status
from plangen.checking.focus import Bound

Key = tuple[str, str, str]
_OWN = RuleSource("Handbook of this tool: several packs at once", "", "", "common practice")


def govern(drafts: list[Draft]) -> list[Draft]:
    """Return the drafts with the bounds of several packs settled."""
    kept: list[Draft] = []
    by_id: dict[str, int] = {}
    for draft in drafts:
        place = by_id.get(draft.finding.id)
        if place is None:
            by_id[draft.finding.id] = len(kept)
            kept.append(draft)
            continue
        merged = _merged(kept[place], draft)
        if merged is not None:
            kept[place] = merged
        else:
            own = f"{draft.finding.pack}/{draft.finding.id}"
            kept.append(replace(draft, finding=replace(draft.finding, id=_free(own, by_id))))
            by_id[kept[-1].finding.id] = len(kept) - 1
    return kept + _conflicts(kept)


def _free(wanted: str, taken: dict[str, int]) -> str:
    name, number = wanted, 2
    while name in taken:
        name, number = f"{wanted}#{number}", number + 1
    return name


def _merged(first: Draft, second: Draft) -> Draft | None:
    """Return the stricter of two findings with the other listed, or None if they do not compare."""
    a, b = first.bound, second.bound
    comparable = (
        a is not None
        and b is not None
        and first.finding.pack != second.finding.pack
        and _measure_key(first) == _measure_key(second)
        and a.downward == b.downward
        and "is" not in (a.operator, b.operator)
        and first.finding.severity == second.finding.severity
    )
    if not comparable or a is None or b is None or a.limit_si is None or b.limit_si is None:
        return None
    second_is_stricter = b.limit_si < a.limit_si if a.downward else b.limit_si > a.limit_si
    strict, loose = (second, first) if second_is_stricter else (first, second)
    # A finding that is open in one pack must not be closed by the other's word.
    if _rank(loose.finding.status) > _rank(strict.finding.status):
        return None
    assert loose.bound is not None
    limit = loose.finding.at_most or loose.finding.at_least
    words = f"{loose.bound.operator} {limit.words if limit else ''}".strip()
    others = (*strict.finding.others, *loose.finding.others, OtherLimit(loose.finding.pack, words))
    return replace(strict, finding=replace(strict.finding, others=tuple(dict.fromkeys(others))))


_RANK = {Status.NOT_APPLICABLE: 0, Status.MEETS: 1, Status.NEEDS_PERSON: 2, Status.NOT_KNOWN: 3}


def _rank(status: Status) -> int:
    return _RANK.get(status, 4)


def _measure_key(draft: Draft) -> Key | None:
    """Return what is measured: the same fact, with the same datum, of the same subject."""
    bound = draft.bound
    if bound is None or bound.field is None or not isinstance(bound.measured, c.Field):
        return None
    return f"{bound.field.relation}.{bound.field.field.name}", bound.field.field.datum, draft.finding.subject


def _conflicts(drafts: list[Draft]) -> list[Draft]:
    least: dict[Key, tuple[Draft, Bound]] = {}
    most: dict[Key, tuple[Draft, Bound]] = {}
    for draft in drafts:
        key, bound = _measure_key(draft), draft.bound
        if key is None or bound is None or bound.limit_si is None or bound.operator == "is":
            continue
        side, sign = (most, -1.0) if bound.downward else (least, 1.0)
        before = side.get(key)
        if before is None or sign * bound.limit_si > sign * (before[1].limit_si or 0.0):
            side[key] = (draft, bound)
    found = []
    for key, (low, low_bound) in least.items():
        if key not in most:
            continue
        high, high_bound = most[key]
        if (low_bound.limit_si or 0.0) > (high_bound.limit_si or 0.0):
            found.append(_conflict(low.finding, high.finding))
    return found


def _conflict(low: Finding, high: Finding) -> Draft:
    least, most = low.at_least, high.at_most
    words = (
        f"{low.subject or 'the design'}: {low.rule} ({low.pack}) wants at least "
        f"{least.words if least else '?'} and {high.rule} ({high.pack}) at most "
        f"{most.words if most else '?'}; both cannot hold."
    )
    finding = replace(
        low,
        id=f"bounds-conflict/{low.rule}/{high.rule}/{low.subject}",
        rule="bounds-conflict",
        title="Two limits that cannot both hold",
        status=Status.NEEDS_PERSON,
        message=words,
        at_most=most,
        margin=None,
        steps=(),
        sources=tuple(dict.fromkeys((*low.sources, *high.sources))) or (_OWN,),
        why="No value can satisfy both limits, so one of the authorities must give way.",
        remedy="Ask the authorities which limit holds, and have it in writing.",
        look_at="Ask the authorities which of the two limits holds",
        others=(),
    )
    return Draft(finding, None)
