"""The exit statuses of every command, fixed for good."""

from __future__ import annotations

from enum import IntEnum


class Exit(IntEnum):
    """What the status of a run means; of several designs the highest counts."""

    FINE = 0  # nothing required falls short
    FALLS_SHORT = 1  # something required falls short or is not known
    UNUSABLE = 2  # the input cannot be used
    FAULT = 3  # a fault in plangen
    NOT_WRITTEN = 4  # the output could not be written, or the PDF library is missing
