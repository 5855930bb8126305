"""The codes of rule-text faults. What each means stands in the catalogue of diagnostics."""

from __future__ import annotations

from enum import StrEnum


class Code(StrEnum):
    """Every code that reading, linking or checking a pack can raise."""

    SYNTAX = "PG5001"
    STRAY_LINE = "PG5002"
    UNCLOSED_BLOCK = "PG5003"
    BRACE_PLACE = "PG5004"
    REPEATED_LINE = "PG5005"
    NO_PACK_BLOCK = "PG5006"
    MISSING_LINE = "PG5007"
    DUPLICATE_NAME = "PG5008"
    UNKNOWN_PACK = "PG5101"
    EXTENDS_CYCLE = "PG5102"
    NOTHING_TO_REPLACE = "PG5103"
    MISSING_REPLACES = "PG5104"
    NO_REASON = "PG5105"
    OTHER_FACTS = "PG5106"
    NO_RULES = "PG5107"
    BAD_TABLE = "PG5108"
    UNKNOWN_RELATION = "PG5201"
    UNKNOWN_FIELD = "PG5202"
    UNKNOWN_WORD = "PG5203"
    UNKNOWN_LIMIT = "PG5204"
    WRONG_DIMENSION = "PG5205"
    TRUTH_EXPECTED = "PG5206"
    VALUE_EXPECTED = "PG5207"
    NOT_SINGLE = "PG5208"
    NEVER_MATCHES = "PG5209"
    PASSES_WHEN_MISSING = "PG5210"
    NOT_YET_EFFECTIVE = "PG5301"
    NOTHING_CHECKED = "PG5303"
