"""`plan-set.pdf` from the annotated sheets. The slow step of a build."""

from __future__ import annotations

import datetime

from plangen.render.pdf import pdf_bytes
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
    return pdf_bytes(sheets, svgs, title, issued or NO_DATE)
