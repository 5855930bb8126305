"""Digests: of everything that went in (printed on every sheet), of each sheet as drawn, of files. Pure."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

from plangen import __version__
from plangen.sheets.marks import Group, Sheet
from plangen.text.source import SourceFile

SHORT = 12
# Marks that change from issue to issue though the drawing has not: left out of a sheet's own digest.
ISSUE_ROLES = ("revision-block", "sheet-total", "digest", "issued", "status")


def sha256(data: bytes) -> str:
    """Return the SHA-256 of bytes in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def inputs_digest(sources: Iterable[SourceFile]) -> str:
    """Return the digest of all texts that went in and of the tool's version, in hexadecimal.

    It is made from the decoded text, so line ends and a byte-order mark do not matter: a checkout on
    another system prints the same digest.
    """
    lines = [f"plangen {__version__}"]
    lines += [f"{sha256(s.text.encode())}  {s.name}" for s in sorted(sources, key=lambda s: s.name)]
    return sha256("\n".join(lines).encode())


def sheet_digest(sheet: Sheet) -> str:
    """Return the digest of what a base sheet draws, without revision text, sheet total and digests.

    An unchanged sheet keeps it from one issue to the next, so that it can be proved unchanged.
    """
    kept = tuple(_without_issue(g) for g in sheet.marks if g.role not in ISSUE_ROLES)
    drawn = (sheet.id, sheet.title, sheet.width_mm, sheet.height_mm, sheet.scale, kept)
    return sha256(repr(drawn).encode())


def _without_issue(group: Group) -> Group:
    marks = tuple(
        _without_issue(m) if isinstance(m, Group) else m
        for m in group.marks
        if not (isinstance(m, Group) and m.role in ISSUE_ROLES)
    )
    return Group(group.role, marks, group.object, group.title)
