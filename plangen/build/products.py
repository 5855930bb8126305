"""Which files a packet holds, and their bytes, from a checked design. Writes nothing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import quote

from plangen import __version__
from plangen.advice.least_supply import least_supply
from plangen.annotation.annotate import annotate
from plangen.annotation.clouds import Revised
from plangen.build.digest import SHORT, sha256, sheet_digest
from plangen.build.inputs import Input
from plangen.build.manifest import manifest_bytes
from plangen.build.page_texts import read_page_texts
from plangen.build.pipeline import Checked, Run
from plangen.build.plan_set import REPORT, pdf_products
from plangen.build.report import report_bytes, report_facts
from plangen.build.source_files import source_products
from plangen.build.standing import standing_of
from plangen.build.write import MANIFEST, Product
from plangen.checking.duties import Duty
from plangen.checking.other_kinds import kinds_judged
from plangen.packet.annual_test import calendar_text
from plangen.packet.bill import csv_text
from plangen.packet.contents import Contents, FileNote, PackNote
from plangen.packet.duties import cycle_of
from plangen.packet.least_supply import LeastSupply
from plangen.packet.page import page_html
from plangen.render.pdf import PdfLibraryMissing
from plangen.render.svg import svg_text
from plangen.sheets.marks import SheetSet


@dataclass(frozen=True, slots=True)
class Made:
    """A packet's files. `pdf_missing` says why there is no PDF, or is empty."""

    products: tuple[Product, ...]
    digest: str
    pdf_missing: str


def make_products(
    run: Run, checked: Checked, step: Callable[[str], None], revised: Revised | None = None
) -> Made:
    """Return every file of the packet, the manifest last: it lists all others.

    `revised` says what changed since an earlier issue, for the clouds.
    """
    step("looking for the least supply")
    least = least_supply(standing_of(checked))
    step("putting the findings on the sheets")
    sheets = annotate(checked.sheets, checked.findings, revised)
    svgs = tuple(svg_text(sheet) for sheet in sheets.sheets)
    files = [
        Product(f"sheets/{sheet.id}.svg", svg.encode())
        for sheet, svg in zip(sheets.sheets, svgs, strict=True)
    ]
    files.append(Product(REPORT, report_bytes(report_facts(run, least))))
    files.append(Product("takeoff.csv", csv_text(checked.layout).encode()))
    tests_due = calendar_text(checked.design, cycle_of(_duties(checked)))
    files += [Product("annual-test.ics", tests_due.encode())] if tests_due else []
    files += source_products((*run.inputs, *run.packs))
    step(f"writing {len(svgs)} sheets as PDF")
    pdf_missing = ""
    try:
        files += pdf_products(sheets, svgs, checked.design.project, checked.digest[:SHORT], tuple(files))
    except PdfLibraryMissing as missing:
        pdf_missing = str(missing)
    step("writing the page")
    digests = tuple((sheet.id, sheet_digest(sheet)) for sheet in checked.sheets.sheets)
    contents = _contents(run, checked, sheets, svgs, digests, files, least)
    files.append(Product("index.html", page_html(contents, read_page_texts()).encode()))
    manifest = manifest_bytes(checked.digest, run.inputs, run.packs, digests, files, revised)
    return Made((*files, Product(MANIFEST, manifest)), checked.digest[:SHORT], pdf_missing)


def _contents(
    run: Run,
    checked: Checked,
    sheets: SheetSet,
    svgs: tuple[str, ...],
    digests: tuple[tuple[str, str], ...],
    files: list[Product],
    least: LeastSupply,
) -> Contents:
    return Contents(
        design=checked.design,
        hydraulics=checked.hydraulics,
        layout=checked.layout,
        sheets=sheets,
        svgs=svgs,
        findings=checked.findings,
        packs=tuple(
            PackNote(p.name, p.title, p.authority, p.edition, p.effective.isoformat(), p.contact, p.banner)
            for p in checked.packs
        ),
        sources=run.sources,
        digest=checked.digest,
        sheet_digests=digests,
        inputs=tuple(_note(i) for i in (*run.inputs, *run.packs)),
        products=tuple(
            FileNote(f.path, sha256(f.data), quote(f.path)) for f in sorted(files, key=lambda f: f.path)
        ),
        version=__version__,
        least=least,
        duties=_duties(checked),
        kinds=kinds_judged(checked.packs, checked.facts, checked.design.project.units),
    )


def _duties(checked: Checked) -> tuple[Duty, ...]:
    return tuple(d for pack in checked.packs for d in pack.duties)


def _note(entry: Input) -> FileNote:
    return FileNote(entry.name, sha256(entry.raw))
