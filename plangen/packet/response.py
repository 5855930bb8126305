"""The answer to a review: each comment with the revisions that answer it and what changed for it. Pure.

With an earlier issue to compare with, every change that no comment asked for is listed as well: that list
is what a reviewer fears missing, so in doubt a change stands in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from plangen.model.design import Project, Revision
from plangen.packet.anchors import finding_anchor
from plangen.packet.changes import Change
from plangen.packet.comments import Comment, Worksheet


@dataclass(frozen=True, slots=True)
class Found:
    """A finding of one issue as far as a letter tells it."""

    id: str
    title: str
    subject: str
    status: str
    measured: str


@dataclass(frozen=True, slots=True)
class Issue:
    """One issue of a packet: its findings, the digest of each sheet, and what is drawn on which sheet."""

    digest: str
    findings: tuple[Found, ...]
    sheets: tuple[tuple[str, str], ...]
    drawn: Mapping[str, tuple[str, ...]]  # sheets of each object


@dataclass(frozen=True, slots=True)
class Shift:
    """One thing that changed, in words. `object` is what it is of; `asked` the comments it follows from.

    `figure`: only the number of a finding moved, as the water does after any change; its verdict stands.
    """

    object: str
    words: str
    sheets: tuple[str, ...]
    asked: tuple[str, ...]
    figure: bool = False


@dataclass(frozen=True, slots=True)
class Reply:
    """The answer to one comment. `kind` is revised, clarified or not answered; `status` answered or open."""

    comment: Comment
    about: str
    revisions: tuple[Revision, ...]
    kind: str
    status: str
    sheets: tuple[str, ...]
    shifts: tuple[Shift, ...]


@dataclass(frozen=True, slots=True)
class Response:
    """The whole letter. `compared` is False where no earlier issue was given: what changed is not known."""

    project: Project
    worksheet: Worksheet
    replies: tuple[Reply, ...]
    unasked: tuple[Shift, ...]
    figures: tuple[Shift, ...]
    unmatched: tuple[Revision, ...]
    sheets_changed: tuple[str, ...]
    sheets_same: tuple[str, ...]
    sheets_new: tuple[str, ...]
    sheets_gone: tuple[str, ...]
    compared: bool
    notes: tuple[str, ...]
    digest: str
    before: str

    @property
    def open(self) -> tuple[Reply, ...]:
        """Return the comments that no revision answers."""
        return tuple(r for r in self.replies if not r.revisions)


def respond(
    project: Project,
    worksheet: Worksheet,
    now: Issue,
    before: Issue | None,
    changed: tuple[Change, ...],
    notes: tuple[str, ...],
) -> Response:
    """Return the letter's contents."""
    titles = {finding_anchor(f.id): f for f in now.findings}
    titles |= {f.id: f for f in now.findings}
    if before is not None:
        titles = (
            {finding_anchor(f.id): f for f in before.findings} | {f.id: f for f in before.findings} | titles
        )
    targets = {c.number: _targets(c, titles) for c in worksheet.comments if _answering(project, c)}
    moved = _sheets_moved(before, now)
    shifts = tuple(_shifts(changed, before, now, targets)) if before is not None else ()
    replies = tuple(_reply(project, c, titles, targets, shifts, moved) for c in worksheet.comments)
    rest = [s for s in shifts if not s.asked]
    told = {r.label for reply in replies for r in reply.revisions}
    same = tuple(s for s, d in now.sheets if before is not None and dict(before.sheets).get(s) == d)
    return Response(
        project=project,
        worksheet=worksheet,
        replies=replies,
        unasked=(*(s for s in rest if not s.figure), *_lone_sheets(moved, shifts, before, now)),
        figures=tuple(s for s in rest if s.figure),
        unmatched=tuple(r for r in project.revisions if r.answers and r.label not in told),
        sheets_changed=moved,
        sheets_same=same,
        sheets_new=_only(now, before),
        sheets_gone=_only(before, now),
        compared=before is not None,
        notes=notes,
        digest=now.digest,
        before=before.digest if before is not None else worksheet.digest,
    )


def _answering(project: Project, comment: Comment) -> tuple[Revision, ...]:
    """Return the revisions that name a comment's number; one revision may name several."""
    return tuple(r for r in project.revisions if comment.number in re.split(r"[\s,;]+", r.answers.strip()))


def _targets(comment: Comment, titles: Mapping[str, Found]) -> frozenset[str]:
    """Return the objects that a comment names: in its field, by its finding, or as a word of its text."""
    found = titles.get(comment.finding)
    words = re.findall(r"[A-Za-z][A-Za-z0-9_.-]*", f"{comment.object} {comment.text}")
    return frozenset({found.subject if found else "", *words} - {""})


def _shifts(
    changed: Iterable[Change], before: Issue, now: Issue, targets: Mapping[str, frozenset[str]]
) -> Iterable[Shift]:
    for c in changed:
        yield _shift(c.object, _change_words(c), before, now, targets)
    old, new = {f.id: f for f in before.findings}, {f.id: f for f in now.findings}
    for name in sorted(old.keys() | new.keys()):
        was, is_ = old.get(name), new.get(name)
        if was != is_:
            one = is_ or was
            if one is not None:
                words = f"finding “{one.title}”: {_told(was)} → {_told(is_)}"
                figure = was is not None and is_ is not None and was.status == is_.status
                yield replace(_shift(one.subject, words, before, now, targets), figure=figure)


def _shift(name: str, words: str, before: Issue, now: Issue, targets: Mapping[str, frozenset[str]]) -> Shift:
    asked = tuple(number for number, objects in targets.items() if name in objects)
    sheets = dict.fromkeys((*now.drawn.get(name, ()), *before.drawn.get(name, ())))
    return Shift(name, words, tuple(sheets), asked)


def _change_words(c: Change) -> str:
    if not c.field:
        return f"{c.kind}: {'new' if not c.before else 'taken out'}"
    return f"{c.kind}, {c.field}: {c.before} → {c.after}"


def _told(found: Found | None) -> str:
    if found is None:
        return "no such finding"
    return f"{found.status}, {found.measured}" if found.measured else found.status


def _sheets_moved(before: Issue | None, now: Issue) -> tuple[str, ...]:
    if before is None:
        return ()
    old = dict(before.sheets)
    return tuple(sheet for sheet, digest in now.sheets if sheet in old and old[sheet] != digest)


def _only(one: Issue | None, other: Issue | None) -> tuple[str, ...]:
    if one is None or other is None:
        return ()
    held = dict(other.sheets)
    return tuple(sheet for sheet, _ in one.sheets if sheet not in held)


def _lone_sheets(
    moved: tuple[str, ...], shifts: tuple[Shift, ...], before: Issue | None, now: Issue
) -> tuple[Shift, ...]:
    """Return new and removed sheets, and those changed though nothing on them is known to have changed."""
    explained = {sheet for shift in shifts for sheet in shift.sheets}
    words = "the drawing changed, and no changed object is known to stand on it"
    lone = [Shift(f"sheet {s}", words, (), ()) for s in moved if s not in explained]
    lone += [Shift(f"sheet {s}", "new", (), ()) for s in _only(now, before)]
    lone += [Shift(f"sheet {s}", "taken out", (), ()) for s in _only(before, now)]
    return tuple(lone)


def _reply(
    project: Project,
    comment: Comment,
    titles: Mapping[str, Found],
    targets: Mapping[str, frozenset[str]],
    shifts: tuple[Shift, ...],
    moved: tuple[str, ...],
) -> Reply:
    revisions = _answering(project, comment)
    mine = tuple(s for s in shifts if comment.number in s.asked)
    drawn = {sheet for s in mine for sheet in s.sheets} | {comment.sheet}
    found = titles.get(comment.finding)
    about = f"{found.title} ({found.subject})" if found and found.subject else found.title if found else ""
    kind = "not answered" if not revisions else "revised" if mine else "clarified"
    status = comment.status if comment.status not in ("", "open", "answered") else ""
    return Reply(
        comment,
        about or comment.finding,
        revisions,
        kind,
        status or ("answered" if revisions else "open"),
        tuple(s for s in moved if s in drawn) if revisions else (),
        mine,
    )
