"""`plan-set.pdf` from the annotated sheets: the slow step of a build, shared among the processors.

The parts are the same however many processes draw them, so the bytes are too.
"""

from __future__ import annotations

import datetime
import multiprocessing
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool

from plangen.render.pdf import joined_bytes, pages_bytes, split_parts
from plangen.sheets.marks import SheetSet

# A design that says no issue date is stamped with a fixed one: no clock may show in a product.
NO_DATE = datetime.date(1970, 1, 1)


def plan_set_bytes(
    sheets: SheetSet, svgs: tuple[str, ...], title: str, issued: datetime.date | None
) -> bytes:
    """Return the plan set.

    Raises:
        PdfLibraryMissing: the system's cairo library cannot be loaded.
    """
    date = issued or NO_DATE
    return joined_bytes(_drawn(split_parts(svgs), date), sheets.sheets, title, date)


def _drawn(parts: tuple[tuple[str, ...], ...], date: datetime.date) -> tuple[bytes, ...]:
    workers = min(len(parts), os.cpu_count() or 1)
    if workers > 1:
        try:
            with ProcessPoolExecutor(workers, mp_context=_context()) as pool:
                return tuple(pool.map(pages_bytes, parts, [date] * len(parts)))
        except (BrokenProcessPool, PermissionError, BlockingIOError):
            # Where no further process may be started the work is done here, only slower.
            pass
    return tuple(pages_bytes(part, date) for part in parts)


def _context() -> multiprocessing.context.BaseContext:
    """Fork on Linux, where it is cheap and this program has no threads; the system's own way elsewhere."""
    return multiprocessing.get_context("fork" if sys.platform == "linux" else None)
