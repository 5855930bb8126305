"""Read what a response letter is made from: comments, the revised design, the packet that was reviewed."""

from __future__ import annotations

import json
from pathlib import Path

from plangen import __version__
from plangen.build.digest import sheet_digest
from plangen.build.drawn_on import places_of
from plangen.build.includes import LIBRARY, read_included
from plangen.build.inputs import read_input
from plangen.build.pipeline import Checked
from plangen.build.report_values import measure_facts
from plangen.build.source_files import SOURCE, NotAPacket, inside, read_claims
from plangen.checking.finding import Finding, Status
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.model.design import Design
from plangen.model.read import read_design
from plangen.packet.changes import changes
from plangen.packet.comments import Worksheet
from plangen.packet.response import Found, Issue, Response, respond
from plangen.quantity.display import number


def response_to(worksheet: Worksheet, checked: Checked, since: Path | None) -> Response:
    """Return the letter's contents, compared with the reviewed packet if there is one.

    Raises:
        NotAPacket: `since` is no packet that can be compared with.
        OSError: a file cannot be read.
    """
    now = _issue_of(checked)
    project = checked.design.project
    if since is None:
        return respond(project, worksheet, now, None, (), ())
    claimed = read_claims(since)
    before = _issue_at(since, claimed.digest, claimed.sheets)
    notes = []
    if claimed.version != __version__:
        notes.append(
            f"the earlier packet was made by plangen {claimed.version}, this letter by {__version__}:"
            " drawings may differ for that reason alone"
        )
    if worksheet.digest and worksheet.digest != claimed.digest:
        notes.append("the comments were made on another issue than the packet compared with")
    earlier = earlier_design(since, claimed.design)
    if earlier is None:
        notes.append("the earlier packet's own design cannot be read: only findings and sheets are compared")
    changed = changes(earlier, checked.design) if earlier is not None else ()
    return respond(project, worksheet, now, before, changed, tuple(notes))


def _issue_of(checked: Checked) -> Issue:
    return Issue(
        checked.digest,
        tuple(_found(f, checked.design.project.units) for f in checked.findings),
        tuple((s.id, sheet_digest(s)) for s in checked.sheets.sheets),
        {name: tuple(sheet for sheet, _ in places) for name, places in places_of(checked.sheets).items()},
    )


def _found(finding: Finding, units: str) -> Found:
    measured = _words(measure_facts(finding.measured, units))
    return Found(finding.id, finding.title, finding.subject, finding.status.words, measured)


def _words(measured: object) -> str:
    """Return a measured value of a report in words, the same from either issue."""
    if not isinstance(measured, dict):
        return ""
    value = measured["value"]
    told = number(value, 2) if isinstance(value, (int, float)) else str(value)
    return f"{told} {measured['unit']}".strip()


def _issue_at(folder: Path, digest: str, sheets: tuple[tuple[str, str], ...]) -> Issue:
    """Return an earlier issue from its report and its manifest."""
    try:
        report = json.loads((folder / "report.json").read_bytes())
        findings = tuple(
            Found(
                str(f["id"]),
                str(f["title"]),
                str(f["subject"]["name"]),
                Status(f["status"]).words,
                _words(f.get("measured")),
            )
            for f in report["findings"]
        )
        drawn: dict[str, tuple[str, ...]] = {
            str(f["subject"]["name"]): tuple(str(d["sheet"]) for d in f["drawn_on"])
            for f in report["findings"]
        }
    except (ValueError, KeyError, TypeError, RecursionError):
        raise NotAPacket("its report.json is broken") from None
    return Issue(digest, findings, sheets, drawn)


def earlier_design(folder: Path, name: str) -> Design | None:
    """Return the design inside a packet, or None if it carries none that can be read."""
    if not inside(name):
        return None
    source = folder / SOURCE
    path = source.joinpath(*name.split("/"))
    read = read_input(path, name)
    if isinstance(read, Diagnostic):
        return None
    included, missing = read_included(path, read, source / LIBRARY)
    # Without what it includes a design is read in part, and all the rest would seem new.
    return None if missing else read_design(read.source, tuple(i.source for i in included)).value
