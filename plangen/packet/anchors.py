"""The page's ids: one way to make each, so that every link meets its place. Pure."""

from __future__ import annotations

import re


def slug(text: str) -> str:
    """Return text as the part of an id: letters, digits, dot and hyphen; anything else becomes its code.

    Two different texts never give the same slug.
    """
    return re.sub(r"[^A-Za-z0-9.-]", lambda m: f"_{ord(m[0]):x}_", text)


def finding_anchor(finding_id: str) -> str:
    """Return the id of a finding's article."""
    return f"finding-{slug(finding_id)}"


def cause_anchor(finding_id: str) -> str:
    """Return the id of what keeps several findings from being known, by the first of them."""
    return f"waiting-{slug(finding_id)}"


def sheet_anchor(sheet_id: str) -> str:
    """Return the id of a sheet's figure."""
    return f"sheet-{slug(sheet_id)}"


def object_row_anchor(sheet_id: str, name: str) -> str:
    """Return the id of an object's row in a sheet's list of objects."""
    return f"{slug(sheet_id)}-has-{slug(name)}"


def object_anchor(name: str) -> str:
    """Return the id of an object in the list of all objects."""
    return f"object-{slug(name)}"
