"""Confirmations and waivers laid over findings, and findings about those that do not hold.

In: drafts, the design's waivers and confirmations, the issue date. Out: drafts with statuses settled. The
clock is never read: a waiver ends against the issue date.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from dataclasses import replace

from plangen.checking.compose_finding import Draft
from plangen.checking.finding import Finding, RuleSource, Status
from plangen.model.design import Confirmation, Waiver
from plangen.text.source import Span
from plangen.text.suggest import closest

_OWN = RuleSource("Handbook of this tool: waivers and confirmations", "", "", "common practice")


def confirm(
    drafts: list[Draft],
    confirmations: tuple[Confirmation, ...],
    issued: datetime.date | None,
    rules: Iterable[str],
) -> list[Draft]:
    """Return the drafts with a person's word taken where only a person can tell."""
    out, used = [], set()
    for draft in drafts:
        finding = draft.finding
        word = next((x for x in confirmations if _speaks_of(x, finding) and _holds(x, issued)), None)
        if finding.status is Status.NEEDS_PERSON and word is not None and draft.rule is not None:
            used.add(word)
            words = _said(word)
            finding = replace(
                finding,
                status=draft.confirmed_as,
                confirmed_by=words,
                message=f"{finding.message.rstrip('.')}; {words}.",
            )
            draft = replace(draft, finding=finding)
        out.append(draft)
    known = sorted(set(rules))
    for word in confirmations:
        if word not in used:
            out.append(_idle_confirmation(word, out, issued, known))
    return out


def _speaks_of(word: Confirmation | Waiver, finding: Finding) -> bool:
    # A confirmation may be of a rule as a whole; a waiver never is.
    whole = isinstance(word, Confirmation) and not word.subject
    return word.rule == finding.rule and (whole or word.subject == finding.subject)


def _holds(word: Confirmation, issued: datetime.date | None) -> bool:
    return bool(word.by) and word.on is not None and (issued is None or word.on <= issued)


def _said(word: Confirmation) -> str:
    reference = f", reference {word.reference}" if word.reference else ""
    return f"confirmed by {word.by} on {word.on}{reference}"


def _idle_confirmation(
    word: Confirmation, drafts: list[Draft], issued: datetime.date | None, known: list[str]
) -> Draft:
    of = f"the confirmation of {word.rule}{f' for {word.subject}' if word.subject else ''}"
    if word.rule not in known:
        near = closest(word.rule, known)
        reason = f"no rule in force is called {word.rule}" + (
            f"; a similar name exists: {near}" if near else ""
        )
    elif not word.by or word.on is None:
        reason = "it does not say by whom and on which day"
    elif issued is not None and word.on > issued:
        reason = f"it is dated {word.on}, after the issue date {issued}"
    else:
        states = {d.finding.status.words for d in drafts if _speaks_of(word, d.finding)}
        reason = (
            f"what it confirms {' and '.join(sorted(states))}" if states else "the rule is on no such object"
        )
    return _notice("confirmation-idle", "Confirmation without effect", word, f"{of} has no effect: {reason}.")


def waive(
    drafts: list[Draft],
    waivers: tuple[Waiver, ...],
    confirmations: tuple[Confirmation, ...],
    issued: datetime.date | None,
    rules: Iterable[str],
) -> list[Draft]:
    """Return the drafts with waivers applied, and a finding for each that does not hold."""
    out = list(drafts)
    known = sorted(set(rules))
    for waiver in waivers:
        hits = [i for i, d in enumerate(out) if d.rule is not None and _speaks_of(waiver, d.finding)]
        short = [i for i in hits if out[i].finding.status is Status.FALLS_SHORT]
        refusal = _refusal(waiver, [out[i] for i in hits], [out[i] for i in short], issued, known)
        if refusal is not None:
            out.append(refusal)
            continue
        for i in short:
            finding = out[i].finding
            words = _granted(waiver, confirmations)
            waived = replace(
                finding,
                status=Status.WAIVED,
                waived_by=words,
                message=f"{finding.message.rstrip('.')}; waived: {waiver.reason.rstrip('.')} ({words}).",
            )
            out[i] = replace(out[i], finding=waived)
    return out


def _granted(waiver: Waiver, confirmations: tuple[Confirmation, ...]) -> str:
    """Return who granted a waiver; a grantor the applicant names is only claimed until confirmed."""
    word = next((x for x in confirmations if x.rule == waiver.rule and x.subject == waiver.subject), None)
    reference = f", reference {waiver.reference}" if waiver.reference else ""
    by = f"{waiver.by or 'nobody named'}{reference}, until {waiver.until}"
    return f"{by}; {_said(word)}" if word is not None else f"claimed: {by}"


def _refusal(
    waiver: Waiver,
    hits: list[Draft],
    short: list[Draft],
    issued: datetime.date | None,
    known: list[str],
) -> Draft | None:
    """Return the finding on a waiver that does not hold, or None if it does."""
    of = f"the waiver of {waiver.rule} for {waiver.subject or 'no object'}"

    def notice(rule: str, title: str, reason: str) -> Draft:
        return _notice(rule, title, waiver, f"{of} {reason}.")

    if waiver.rule not in known:
        near = closest(waiver.rule, known)
        tail = f"; a similar name exists: {near}" if near else ""
        return notice("waiver-unused", "Waiver of an unknown rule", f"names no rule in force{tail}")
    if not hits:
        return notice("waiver-unused", "Unused waiver", "is unused: the rule was not checked on it")
    if any(d.rule is not None and not d.rule.waivable for d in hits):
        return notice("waiver-refused", "Waiver of a rule that cannot be waived", "cannot be granted")
    if not short:
        states = " and ".join(sorted({d.finding.status.words for d in hits}))
        return notice("waiver-unused", "Unused waiver", f"is unused: the finding is `{states}`")
    if not waiver.reason.strip() or not waiver.by.strip():
        return notice("waiver-refused", "Incomplete waiver", "does not say why, or by whom it was granted")
    if waiver.until is None:
        return notice("waiver-undated", "Waiver without an end date", "has no end date, so it does not hold")
    if issued is None:
        return notice(
            "waiver-undated", "Waiver on an undated plan", "cannot hold: the plan has no issue date"
        )
    if waiver.until < issued:
        return notice(
            "waiver-expired", "Expired waiver", f"ended on {waiver.until}, before the issue date {issued}"
        )
    return None


def _notice(rule: str, title: str, word: Waiver | Confirmation, message: str) -> Draft:
    at: Span = word.span
    finding = Finding(
        f"{rule}/{word.rule}/{word.subject}".rstrip("/"),
        0,
        rule,
        "",
        title,
        Status.FALLS_SHORT,
        "advisory",
        "waiver" if isinstance(word, Waiver) else "confirmation",
        word.subject,
        message[:1].upper() + message[1:],
        at,
        at,
        sources=(_OWN,),
        why="A word that has no effect hides what is still open.",
        remedy="Correct it or take it out of the design.",
    )
    return Draft(finding, None)
