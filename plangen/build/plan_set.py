"""The PDF files of a packet from the annotated sheets: the slow step of a build, shared among the processors.

The parts are the same however many processes draw them, so the bytes are too.
"""

from __future__ import annotations

import datetime
import os
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool

from plangen.build.apart import process_context
from plangen.build.pack_texts import is_pack_text
from plangen.build.source_files import SOURCE
from plangen.build.write import Product
from plangen.model.design import Project
from plangen.render.pdf import pages_bytes, split_parts
from plangen.render.pdf_copies import About, Attached, copies
from plangen.sheets.marks import SheetSet

PDF_NAMES = ("plan-set.pdf", "plan-set-submittal.pdf", "plan-set-record.pdf")
REPORT = "report.json"

# A design that says no issue date is stamped with a fixed one: no clock may show in a product.
NO_DATE = datetime.date(1970, 1, 1)


def pdf_products(
    sheets: SheetSet, svgs: tuple[str, ...], project: Project, digest: str, files: tuple[Product, ...]
) -> list[Product]:
    """Return the plan set, its flat copy to submit, and its copy to keep with the given files attached.

    `svgs` are the sheets' texts in the same order; `digest` is that of the inputs, as lettered on the sheets.

    Raises:
        PdfLibraryMissing: the system's cairo library cannot be loaded.
        PdfDamaged: the pages do not match the sheets.
    """
    date, preparer = project.issued or NO_DATE, project.preparer
    about = About(
        f"{project.title}, {project.address}" if project.address else project.title,
        ", ".join(who for who in (preparer.name, preparer.firm) if who) if preparer else "",
        f"Permit plan set of {len(svgs)} sheets, design digest {digest}. A check is not an approval.",
        date,
    )
    attached = tuple(_attached(f) for f in files if f.path == REPORT or f.path.startswith(f"{SOURCE}/"))
    made = copies(_drawn(split_parts(svgs), date), sheets.sheets, about, attached)
    data = (made.plan_set, made.submittal, made.record)
    return [Product(name, pdf) for name, pdf in zip(PDF_NAMES, data, strict=True)]


def _attached(file: Product) -> Attached:
    if file.path == REPORT:
        return Attached(file.path, file.data, "application/json", "What the design was found to be")
    pack = is_pack_text(file.path.removeprefix(f"{SOURCE}/"))
    return Attached(
        file.path, file.data, "text/plain", "A rule pack" if pack else "The design, or a part of it"
    )


def _drawn(parts: tuple[tuple[str, ...], ...], date: datetime.date) -> tuple[bytes, ...]:
    workers = min(len(parts), os.cpu_count() or 1)
    if workers > 1:
        try:
            with ProcessPoolExecutor(workers, mp_context=process_context()) as pool:
                return tuple(pool.map(pages_bytes, parts, [date] * len(parts)))
        except (BrokenProcessPool, PermissionError, BlockingIOError):
            # Where no further process may be started the work is done here, only slower.
            pass
    return tuple(pages_bytes(part, date) for part in parts)
