"""Where every number comes from, what is merely assumed, and what went in and came out. Pure."""

from __future__ import annotations

from plangen.checking.finding import Evidence
from plangen.packet.assumptions import assumptions
from plangen.packet.contents import Contents, FileNote
from plangen.packet.tables import NOT_KNOWN, Cell, Table, cells


def whence(evidence: Evidence) -> str:
    """Return where a value comes from; what is not known comes from nobody, least of all the designer."""
    return "-" if evidence.value.words == NOT_KNOWN else evidence.provenance.told()


def assumption_table(contents: Contents) -> Table:
    """Return every value nobody measured or documented, with what rests on it."""
    rows = []
    for a in assumptions(contents.hydraulics, contents.findings):
        place = contents.sources.place(a.span) if a.span else None
        where = f"{place.file}, line {place.line}" if place else ""
        rows.append(cells(a.name, a.written, a.provenance, where, ", ".join(a.used_by)))
    columns = ("Value", "Reads", "Where it comes from", "Said at", "What rests on it")
    empty = "No result rests on a typical, assumed or remembered value."
    return Table("assumption-table", "Assumed values", columns, tuple(rows), empty)


def input_table(contents: Contents) -> Table:
    """Return every stated value that reached a result, in the order of names."""
    water = contents.hydraulics
    found = {(i.name, i.written, i.provenance.told()) for case in water.cases for i in case.inputs}
    found |= {(i.name, i.written, i.provenance.told()) for i in water.static_inputs}
    found |= {(e.name, e.value.words, whence(e)) for f in contents.findings for e in f.evidence}
    rows = tuple(cells(*entry) for entry in sorted(found))
    columns = ("Value", "Reads", "Where it comes from")
    return Table("input-table", "Values that reached a result", columns, rows, "No value reached a result.")


def digest_table(table_id: str, caption: str, files: tuple[FileNote, ...]) -> Table:
    """Return files with their digests."""
    rows = tuple((Cell(f.path, f.link, file=bool(f.link)), Cell(f.sha256)) for f in files)
    return Table(table_id, caption, ("File", "SHA-256"), rows)


def sheet_digest_table(contents: Contents) -> Table:
    """Return each sheet's own digest, which stays while the drawing stays."""
    rows = tuple(cells(sheet, value) for sheet, value in contents.sheet_digests)
    note = "Of the drawing without revision text, sheet total and digests: it proves a sheet unchanged."
    return Table("sheet-digests", "Digests of the sheets", ("Sheet", "SHA-256"), rows, note=note)
