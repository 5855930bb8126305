"""The converted pages joined, and the three copies made of them: to work with, to submit, to keep.

- The plan set has bookmarks, page labels, named places, and links from callouts and the sheet index.
- The submittal copy is flat: all that a page shows is in its own content. No annotation or link lies over it;
  there is no form, layer, script, attachment, transparency or encryption. Bookmarks and page labels stay,
  since offices that ask for flat files ask for those too.
- The record copy is the plan set with the texts it was made from, and the report, attached.

The pages are converted once; the copies differ only in what lies about them. Dates are the issue date.
"""

from __future__ import annotations

import contextlib
import datetime
import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from plangen.sheets.marks import CallOut, Sheet

PT_PER_MM = 72.0 / 25.4
PRODUCER = "plangen"


class PdfDamaged(Exception):
    """The assembled PDF lacks pages: a fault in this program or its libraries."""


@dataclass(frozen=True, slots=True)
class About:
    """What a viewer shows of the set: its title, who prepared it, a sentence, and its date of issue."""

    title: str
    author: str
    subject: str
    date: datetime.date


@dataclass(frozen=True, slots=True)
class Attached:
    """One file inside the record copy: where it belongs in a packet (forward slashes), and its bytes."""

    path: str
    data: bytes
    mime: str
    words: str


@dataclass(frozen=True, slots=True)
class Copies:
    """The three PDF files of a packet."""

    plan_set: bytes
    submittal: bytes
    record: bytes


def copies(
    parts: Sequence[bytes], sheets: Sequence[Sheet], about: About, attached: Sequence[Attached]
) -> Copies:
    """Join the converted parts in order and return the three copies.

    Raises:
        PdfDamaged: there are not as many pages as sheets.
    """
    import pikepdf

    with contextlib.ExitStack() as stack:
        pdf = stack.enter_context(pikepdf.new())
        for part in parts:
            pdf.pages.extend(stack.enter_context(pikepdf.open(io.BytesIO(part))).pages)
        if len(pdf.pages) != len(sheets):
            raise PdfDamaged(f"{len(pdf.pages)} pages for {len(sheets)} sheets")
        for page, sheet in zip(pdf.pages, sheets, strict=True):
            _finish_page(page, sheet)
        _set_about(pdf, sheets, about)
        submittal = _saved(pdf)
        _add_links(pdf, sheets)
        _add_places(pdf, sheets)
        plan_set = _saved(pdf)
        _attach(pdf, attached, f"D:{about.date:%Y%m%d}000000Z")
        return Copies(plan_set, submittal, _saved(pdf))


def _saved(pdf: Any) -> bytes:
    import pikepdf

    out = io.BytesIO()
    pdf.save(out, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return out.getvalue()


def _finish_page(page: Any, sheet: Sheet) -> None:
    """Give the page the exact size of its sheet; drop the mark of transparency where there is none."""
    page.MediaBox = [0, 0, *(round(mm * PT_PER_MM, 4) for mm in (sheet.width_mm, sheet.height_mm))]
    states = page.Resources.get("/ExtGState", {})
    if all("/SMask" not in s and s.get("/ca", 1) == 1 and s.get("/CA", 1) == 1 for _, s in states.items()):
        del page["/Group"]


def _set_about(pdf: Any, sheets: Sequence[Sheet], about: About) -> None:
    """Add bookmarks, page labels, the document's metadata, and what the window shows first."""
    import pikepdf

    with pdf.open_outline() as outline:
        for n, sheet in enumerate(sheets):
            outline.root.append(pikepdf.OutlineItem(f"{sheet.id} {sheet.title}", n, "Fit"))
    labels = [x for n, s in enumerate(sheets) for x in (n, pikepdf.Dictionary(P=s.id))]
    pdf.Root.PageLabels = pikepdf.Dictionary(Nums=pikepdf.Array(labels))
    pdf.Root.Lang = "en"
    pdf.Root.PageMode = pikepdf.Name.UseOutlines
    pdf.Root.ViewerPreferences = pikepdf.Dictionary(DisplayDocTitle=True, PrintScaling=pikepdf.Name("/None"))
    stamp = f"D:{about.date:%Y%m%d}000000Z"
    told = {"Title": about.title, "Author": about.author, "Subject": about.subject}
    for key, value in {**told, "Producer": PRODUCER, "Creator": PRODUCER}.items():
        if value:
            pdf.docinfo[f"/{key}"] = value
    pdf.docinfo["/CreationDate"] = stamp
    pdf.docinfo["/ModDate"] = stamp


def _add_links(pdf: Any, sheets: Sequence[Sheet]) -> None:
    import pikepdf

    index = {sheet.id: i for i, sheet in enumerate(sheets)}
    for sheet, page in zip(sheets, pdf.pages, strict=True):
        links = [
            _link(pdf, sheet, call, index[call.to_sheet]) for call in sheet.callouts if call.to_sheet in index
        ]
        if links:
            page.Annots = pdf.make_indirect(pikepdf.Array(links))


def _link(pdf: Any, sheet: Sheet, call: CallOut, page_index: int) -> Any:
    """Return a link without a border; flag 4: it may be printed, though there is nothing to see."""
    import pikepdf

    bottom = (sheet.height_mm - call.y - call.height) * PT_PER_MM
    rect = [call.x * PT_PER_MM, bottom, (call.x + call.width) * PT_PER_MM, bottom + call.height * PT_PER_MM]
    return pdf.make_indirect(
        pikepdf.Dictionary(
            Type=pikepdf.Name.Annot,
            Subtype=pikepdf.Name.Link,
            Rect=pikepdf.Array([round(v, 2) for v in rect]),
            Border=pikepdf.Array([0, 0, 0]),
            F=4,
            Contents=f"to sheet {call.to_sheet}",
            Dest=pikepdf.Array([pdf.pages[page_index].obj, pikepdf.Name.Fit]),
        )
    )


def _add_places(pdf: Any, sheets: Sequence[Sheet]) -> None:
    """Name each sheet as a place, so that a letter can point into the file: `plan-set.pdf#LI101`."""
    import pikepdf

    places = pikepdf.NameTree.new(pdf)
    for page, sheet in zip(pdf.pages, sheets, strict=True):
        places[sheet.id] = pikepdf.Array([page.obj, pikepdf.Name.Fit])
    pdf.Root.Names = pikepdf.Dictionary(Dests=places.obj)


def _attach(pdf: Any, attached: Sequence[Attached], stamp: str) -> None:
    """Embed the files. A viewer saves one under its flat name; its words say where it belongs."""
    import pikepdf

    listed = []
    for entry in sorted(attached, key=lambda a: a.path):
        text = entry.path.endswith((".plan", ".rules"))
        file = pikepdf.AttachedFileSpec(
            pdf,
            entry.data,
            description=f"{entry.words}: {entry.path}",
            filename=entry.path.removeprefix("source/").replace("/", "-"),
            mime_type=entry.mime,
            creation_date=stamp,
            mod_date=stamp,
            relationship=pikepdf.Name.Source if text else pikepdf.Name.Data,
        )
        pdf.attachments[entry.path] = file
        listed.append(file.obj)
    pdf.Root.AF = pikepdf.Array(listed)
