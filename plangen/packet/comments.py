"""A reviewer's comments as saved from the page's worksheet: read from untrusted text. Pure."""

from __future__ import annotations

import json
from dataclasses import dataclass, fields

FORMAT = "plangen-comments/1"
MAX_BYTES = 5_000_000


@dataclass(frozen=True, slots=True)
class Comment:
    """One comment. `finding` is a finding's id or its anchor on the page; `number` is never used twice."""

    number: str
    text: str
    sheet: str = ""
    zone: str = ""
    object: str = ""
    finding: str = ""
    code: str = ""
    kind: str = ""
    discipline: str = ""
    by: str = ""
    contact: str = ""
    status: str = ""
    closed_by: str = ""
    closed_on: str = ""


@dataclass(frozen=True, slots=True)
class Worksheet:
    """All comments of one cycle, and the packet they were made on: its digest, title and design file."""

    digest: str
    title: str
    design: str
    cycle: str
    comments: tuple[Comment, ...]


class NoWorksheet(Exception):
    """The text is no worksheet of comments; the message says why."""


def read_worksheet(data: bytes) -> Worksheet:
    """Return the comments of a file.

    A comment without a number takes its place in the list.

    Raises:
        NoWorksheet: it is not one, or two comments share a number.
    """
    if len(data) > MAX_BYTES:
        raise NoWorksheet("the file is larger than comments can be")
    try:
        facts = json.loads(data.decode("utf-8-sig"))
    except (ValueError, RecursionError):
        raise NoWorksheet("the file is not JSON text in UTF-8") from None
    if not isinstance(facts, dict) or facts.get("format") != FORMAT:
        raise NoWorksheet(f"the file is not a worksheet of comments ({FORMAT})")
    listed = facts.get("comments")
    if not isinstance(listed, list) or not all(isinstance(c, dict) for c in listed):
        raise NoWorksheet("its comments are not a list")
    comments = tuple(_comment(c, str(n)) for n, c in enumerate(listed, start=1))
    numbers = [c.number for c in comments]
    twice = sorted({n for n in numbers if numbers.count(n) > 1})
    if twice:
        raise NoWorksheet(f"number {twice[0]} is given to two comments")
    return Worksheet(
        digest=_text(facts.get("digest")),
        title=_text(facts.get("title")),
        design=_text(facts.get("design")),
        cycle=_text(facts.get("cycle")) or "1",
        comments=comments,
    )


def _comment(row: dict[str, object], place: str) -> Comment:
    told = {f.name: _text(row.get(f.name)) for f in fields(Comment)}
    told["number"] = told["number"] or place
    return Comment(**told)


def _text(value: object) -> str:
    """Return a field as one text without control characters other than line ends."""
    words = "" if value is None else str(value)
    return "".join(ch for ch in words if ch == "\n" or ch >= " ").strip()
