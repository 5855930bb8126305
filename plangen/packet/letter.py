"""The response letter as Markdown and as an HTML page. Texts of people are shown as text in both. Pure."""

from __future__ import annotations

import re
from collections.abc import Iterable

from markupsafe import Markup

from plangen.packet.contents import PageTexts
from plangen.packet.response import Reply, Response, Shift
from plangen.packet.templating import templates, without_blank_lines

CAUTION = (
    "This letter was made from the design text and the reviewer's comments. It is not an approval:"
    " local code, the water purveyor and licensed practice decide."
)
NOT_COMPARED = (
    "Not known: no earlier packet was given to compare with,"
    " so changes that nobody asked for cannot be listed."
)
FIGURES = "Figures that moved, with the verdict unchanged"


def letter_html(response: Response, texts: PageTexts) -> str:
    """Return the letter as one page that fetches nothing."""
    page = (
        templates(texts.templates)
        .get_template("response.html")
        .render(
            r=response,
            style=Markup(texts.style),
            fields=reply_fields,
            sheet_lines=sheet_lines(response),
            caution=CAUTION,
            not_compared=NOT_COMPARED,
            figures=FIGURES,
        )
    )
    return without_blank_lines(page)


def reply_fields(reply: Reply, compared: bool) -> tuple[tuple[str, str], ...]:
    """Return every field of one answer with its words; a field without words is told as such."""
    c = reply.comment
    where = " ".join(x for x in (c.sheet, c.zone, f"({c.object})" if c.object else "") if x)
    sheets = ", ".join(reply.sheets) or "none" if compared else "not known, no earlier packet given"
    preparers = {f"revision {r.label}": r.date.isoformat() for r in reply.revisions}
    return (
        ("Reviewer", ", ".join(x for x in (c.by, c.discipline, c.contact) if x) or "not stated"),
        ("Sheet, zone and object", where or "not stated"),
        ("Finding", reply.about or "none named"),
        ("Code section", c.code or "none named"),
        ("Category", c.kind or "not stated"),
        ("Comment", c.text or "(empty)"),
        (
            "Response",
            " ".join(f"{r.text}." if not r.text.endswith(".") else r.text for r in reply.revisions) or "none",
        ),
        ("Kind of response", reply.kind),
        ("Changed sheets", sheets if reply.revisions else "none"),
        ("Delta", ", ".join(f"{name} of {date}" for name, date in preparers.items()) or "none"),
        ("Status", reply.status),
        ("Closed by, on", " ".join(x for x in (c.closed_by, c.closed_on) if x) or "____________________"),
    )


def letter_markdown(response: Response) -> str:
    """Return the letter as Markdown."""
    project, sheet = response.project, response.worksheet
    preparer = project.preparer
    lines = [
        f"# Response to review comments, cycle {_inert(sheet.cycle)}",
        "",
        f"- Project: {_inert(project.title)}",
        f"- Address: {_inert(project.address or 'not stated')}",
        f"- Permit: {_inert(project.permit or 'not stated')}",
        f"- Responder: {_inert(preparer.name if preparer else 'not stated')}",
        f"- Comments made on the issue with digest {_inert(sheet.digest[:12] or 'not stated')}",
        f"- This issue has digest {response.digest[:12]}",
        "",
        f"**{CAUTION}**",
        "",
        f"{len(response.replies)} comments, {len(response.replies) - len(response.open)} answered,"
        f" {len(response.open)} open.",
    ]
    lines += [f"\nNote: {_inert(note)}" for note in response.notes]
    for reply in response.replies:
        lines += ["", f"## Comment {_inert(reply.comment.number)}", ""]
        lines += [
            f"- **{label}:** {_inert(words)}" for label, words in reply_fields(reply, response.compared)
        ]
        lines += [f"- {_shift_line(s)}" for s in reply.shifts]
    lines += ["", "## Changes nobody asked for", ""]
    if not response.compared:
        lines.append(NOT_COMPARED)
    else:
        lines += _shift_lines(response.unasked) or ["None."]
        lines += ["", f"## {FIGURES}", ""]
        lines += _shift_lines(response.figures) or ["None."]
    lines += ["", "## Sheets", ""]
    lines += [f"- {label}: {_inert(words)}" for label, words in sheet_lines(response)]
    if response.unmatched:
        lines += ["", "## Revisions whose comment is not in this worksheet", ""]
        lines += [
            f"- Revision {_inert(r.label)}, {r.date.isoformat()}, answers {_inert(r.answers)}:"
            f" {_inert(r.text)}"
            for r in response.unmatched
        ]
    return "\n".join([*lines, "", "Signature and date: ____________________", ""])


def sheet_lines(response: Response) -> tuple[tuple[str, str], ...]:
    """Return which sheets changed, came, went and stayed."""
    if not response.compared:
        return (("Compared", "no earlier packet was given"),)
    groups = (
        ("Changed", response.sheets_changed),
        ("New", response.sheets_new),
        ("Taken out", response.sheets_gone),
        ("Unchanged, shown by the same digest", response.sheets_same),
    )
    return tuple((label, ", ".join(sheets) or "none") for label, sheets in groups)


def _shift_lines(shifts: Iterable[Shift]) -> list[str]:
    return [f"- {_shift_line(s)}" for s in shifts]


def _shift_line(shift: Shift) -> str:
    sheets = f" (sheets {', '.join(shift.sheets)})" if shift.sheets else ""
    return f"{_inert(shift.object or 'the whole design')}: {_inert(shift.words)}{sheets}"


def _inert(text: str) -> str:
    """Return text that Markdown shows as it is, on one line."""
    return re.sub(r"([\\`*_{}\[\]()<>#+!|~&])", r"\\\1", " ".join(text.split()))
