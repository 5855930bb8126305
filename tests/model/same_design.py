"""Two designs compared by what they mean: places in the text left out."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import Any

from plangen.text.source import Span


def meaning(value: Any) -> Any:
    """Return a value without its spans, as nested tuples."""
    if isinstance(value, Span):
        return None
    if is_dataclass(value) and not isinstance(value, type):
        return (type(value).__name__, *((f.name, meaning(getattr(value, f.name))) for f in fields(value)))
    if isinstance(value, tuple):
        return tuple(meaning(v) for v in value)
    return value
