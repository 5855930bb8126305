"""The frame of every sheet: border zones, title strip, blank agency and seal areas, cautions, digest.

Nothing here knows what a sheet shows. The strip keeps room for the status words that the code check may
add later, so that nothing moves when it does. No seal and no signature is ever drawn.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from plangen.model.design import Project
from plangen.sheets.border import border
from plangen.sheets.font import drawable, text_width_mm
from plangen.sheets.marks import Area, Group, Line, Text
from plangen.sheets.panel import AnyMark, Noted
from plangen.sheets.paper import Paper
from plangen.sheets.paragraphs import LINE, paragraph, wrapped
from plangen.sheets.pens import Lettering, lettering

CAUTION = (
    "CAUTION: a wrong connection to drinking water can make people ill, and digging or pressure can injure."
    " Local code, the water purveyor and licensed practice decide. Have buried lines marked before"
    " digging (US: call 811)."
)
NOT_APPROVED = (
    "Prepared with a checking tool from one design file. A check is not an approval: the authority having"
    " jurisdiction and the licensed person responsible review and sign."
)
# the sheet that the set keeps for the code check; it stands last
CHECK_SHEET = "LI801"


@dataclass(frozen=True, slots=True)
class Identity:
    """What the title block says of one sheet."""

    id: str
    title: str
    scale: str
    number: int
    total: int
    digest: str
    editions: tuple[str, ...]


def frame_marks(paper: Paper, project: Project, who: Identity) -> tuple[Group, tuple[Noted, ...]]:
    """Return the frame of one sheet, and its inventory."""
    letters = lettering(paper.family)
    strip, drawn = _strip(paper, letters, project, who)
    return Group("frame", (border(paper, letters), strip), title=f"Frame and title block of {who.id}"), drawn


def status_box(paper: Paper) -> tuple[float, float, float, float]:
    """Return (left, top, width, height) of the room kept for NOT FOR CONSTRUCTION in the title strip."""
    letters = lettering(paper.family)
    left, _, right, bottom = paper.strip_rect
    height = letters.heading * 2.0
    return left, bottom - _identity_height(letters) - height, right - left, height


def _identity_height(letters: Lettering) -> float:
    return letters.sheet_id * 1.5 + letters.floor * LINE * 3 + letters.title * LINE * 2 + letters.floor * 2


@dataclass(slots=True)
class _Column:
    """The title strip as it fills from the top: the pen goes down, marks and entries gather."""

    left: float
    right: float
    y: float
    letters: Lettering
    marks: list[AnyMark]
    drawn: list[Noted]

    def rule(self) -> None:
        self.marks.append(Line(((self.left, self.y), (self.right, self.y)), "frame-thin"))

    def field(self, name: str, value: str, role: str, bold: bool = False, height: float = 0.0) -> None:
        """Letter a small head and its value below it; an empty value leaves a blank line to fill in."""
        small, pad = self.letters.floor, 1.4
        height = height or small
        marks = [Text(self.left + pad, self.y + small * 1.35, name.upper(), small)]
        indent = text_width_mm(name.upper() + "  ", small)
        room = self.right - self.left - 2 * pad
        one = drawable(value)
        if text_width_mm(one, height, bold) <= room - indent:
            marks.append(Text(self.left + pad + indent, self.y + small * 1.35, one, height, bold=bold))
            self.y += max(small, height) * LINE + 0.35
        else:
            lines = wrapped(value, room, height, bold)
            for i, text in enumerate(lines):
                y = self.y + small * LINE + height * (1.2 + i * LINE)
                marks.append(Text(self.left + pad, y, text, height, bold=bold))
            self.y += small * LINE + len(lines) * height * LINE + 0.35
        self.marks.append(Group(role, tuple(m for m in marks if m.text), title=name))
        self.drawn.append(Noted("title-block", name.lower(), "", self.left, self.y))

    def box(self, words: Sequence[str], height: float, role: str) -> None:
        """Leave an empty box lettered at its top."""
        self.rule()
        small, middle = self.letters.floor, (self.left + self.right) / 2
        lines = [line for w in words for line in wrapped(w, self.right - self.left - 2.8, small)]
        marks = [
            Text(middle, self.y + small * (1.5 + i * LINE), line, small, "middle")
            for i, line in enumerate(lines)
        ]
        self.marks.append(Group(role, tuple(marks), title=words[0]))
        self.drawn.append(Noted(role, words[0], "", self.left, self.y))
        self.y += height
        self.rule()


def _strip(
    paper: Paper, letters: Lettering, project: Project, who: Identity
) -> tuple[Group, tuple[Noted, ...]]:
    """The title strip, its entries lettered as large, up to body height, as its length allows."""
    least, most = letters.floor, letters.body
    lowest = status_box(paper)[1]
    for small in (most, (most + least) / 2, least):
        column = _filled(paper, replace(letters, floor=small), project, who)
        if column.y <= lowest:
            break
    column.letters = letters
    _identity(column, paper, project, who)
    return Group("title-block", tuple(column.marks), title="Title block"), tuple(column.drawn)


def _filled(paper: Paper, letters: Lettering, project: Project, who: Identity) -> _Column:
    """The strip from its top down to where its entries end."""
    left, top, right, bottom = paper.strip_rect
    column = _Column(left, right, top, letters, [Line(((left, top), (left, bottom)), "frame")], [])
    large = paper.strip > 100.0
    column.box(("RESERVED FOR AGENCY APPROVAL", "leave blank"), 101.6 if large else 50.8, "approval-box")
    column.box(
        ("SEAL OF THE LICENSED PERSON, IF REQUIRED", "not sealed, not signed"),
        63.5 if large else 30.0,
        "seal-box",
    )
    _signature(column)
    _project_fields(column, project)
    _revisions(column, project)
    column.rule()
    column.y += letters.floor * 0.5
    _small_print(column, who)
    return column


def _signature(column: _Column) -> None:
    small = column.letters.floor
    y = column.y - small * 0.8
    signed, dated = (text_width_mm(word, small) + 1.5 for word in ("SIGNED", "DATE"))
    date = column.right - 12.0 - dated
    column.marks.append(Text(column.left + 1.4, y, "SIGNED", small))
    column.marks.append(Text(date, y, "DATE", small))
    for a, b in ((column.left + 1.4 + signed, date - 1.5), (column.right - 12.0, column.right - 1.4)):
        column.marks.append(Line(((a, y), (b, y)), "thin"))


def _project_fields(column: _Column, project: Project) -> None:
    letters, preparer = column.letters, project.preparer
    column.y += 0.6
    column.field("Project", project.title, "title-field", True, max(letters.body, letters.floor * 1.2))
    for name, value in (
        ("Address", project.address),
        ("Parcel", project.parcel),
        ("Owner", project.owner),
        ("Purveyor", project.purveyor),
        ("Permit no.", project.permit),
    ):
        column.field(name, value, "title-field")
    column.rule()
    column.y += 0.6
    name = ", ".join(w for w in (preparer.name, preparer.firm) if w) if preparer else ""
    expires = preparer.licence_expires if preparer else None
    licence = (preparer.licence if preparer else "") + (f", expires {expires.isoformat()}" if expires else "")
    for field, value in (
        ("Prepared by", name),
        ("Licence", licence),
        ("Phone", preparer.phone if preparer else ""),
        ("Checked by", ""),
    ):
        column.field(field, value, "title-field")


def _revisions(column: _Column, project: Project) -> None:
    """The revision block: mark, date, text, and the review comment it answers."""
    small = column.letters.floor
    column.rule()
    y = column.y
    heads = wrapped("REVISIONS mark, date, what, comment answered", column.right - column.left - 2.8, small)
    marks: list[AnyMark] = [
        Text(column.left + 1.4, y + small * (1.4 + i * LINE), line, small) for i, line in enumerate(heads)
    ]
    column.y += len(heads) * small * LINE + 0.6
    for revision in project.revisions[-3:]:
        answers = f" (answers {revision.answers})" if revision.answers else ""
        words = f"{revision.date.isoformat()}   {revision.text}{answers}"
        indent = delta_size(small) + 2.2
        lines = wrapped(words, column.right - column.left - 1.4 - indent, small)
        marks.append(delta(column.left + 1.4, column.y + 0.4, revision.label, small))
        marks.extend(
            Text(column.left + indent, column.y + small * (1.9 + i * LINE), line, small)
            for i, line in enumerate(lines)
        )
        column.y += max(len(lines) * small * LINE + small * 0.7, delta_size(small) + 0.6)
    column.marks.append(Group("revision-block", tuple(marks), title="Revisions"))
    column.drawn.append(Noted("revision-block", "revisions", "", column.left, y))


def delta_size(height: float) -> float:
    """Return the width and height of a revision's triangle around a letter of that height."""
    return height * 2.5


def delta(left: float, top: float, label: str, height: float) -> Group:
    """Return a revision's mark: a triangle about its letter, lettered at `height`."""
    size = delta_size(height)
    outline = ((left, top + size), (left + size / 2, top), (left + size, top + size))
    letter = Text(left + size / 2, top + size - height * 0.35, drawable(label), height, "middle", True)
    return Group("delta", (Area(outline, "thin", "white"), letter), title=f"Revision {label}")


def _small_print(column: _Column, who: Identity) -> None:
    small, width = column.letters.floor, column.right - column.left - 2.8
    for role, words in (
        ("caution", CAUTION),
        ("statement", NOT_APPROVED),
        (
            "code-editions",
            "Codes: " + ("; ".join(who.editions) if who.editions else "none named in the design file"),
        ),
    ):
        texts = paragraph(words, column.left + 1.4, column.y, width, small, bold=role == "caution")
        column.marks.append(Group(role, texts, title=role.replace("-", " ")))
        column.drawn.append(Noted(role, role, "", column.left, column.y))
        column.y += len(texts) * small * LINE + 0.7


def _title(words: str, letters: Lettering, middle: float, top: float, width: float) -> Group:
    """The sheet's title as large as the room of two title lines allows."""
    room = letters.title * 3.0
    for height in (letters.title, letters.heading, letters.body, letters.floor):
        lines = wrapped(words, width, height, True)
        # no last line of a single figure: `1 OF` over `2`
        if len(lines) * height * 1.35 <= room and len(lines[-1]) > 2:
            break
    y = top + letters.title * 0.4
    texts = [
        Text(middle, y + (i + 1) * height * 1.35, t, height, "middle", True) for i, t in enumerate(lines)
    ]
    return Group("sheet-title", tuple(texts), title="Sheet title")


def _identity(column: _Column, paper: Paper, project: Project, who: Identity) -> None:
    """Title, scale, issue date, digest and the sheet's number: the bottom right corner of the sheet."""
    letters = column.letters
    left, right, bottom = column.left, column.right, paper.strip_rect[3]
    top = bottom - _identity_height(letters)
    middle, small = (left + right) / 2, letters.floor
    column.marks.append(Line(((left, top), (right, top)), "frame-thin"))
    column.marks.append(_title(who.title.upper(), letters, middle, top, right - left - 3.0))
    issued = project.issued.isoformat() if project.issued else "not given"
    y = bottom - letters.sheet_id * 1.5 - small * LINE * 2.6
    scale = f"SCALE {'none' if who.scale in ('', 'none') else who.scale}"
    column.marks.append(Group("scale", (Text(left + 1.4, y, scale, small),), title="Scale"))
    y += small * LINE
    column.marks.append(
        Group("issued", (Text(left + 1.4, y, f"ISSUED {issued}", small),), title="Issue date")
    )
    column.marks.append(
        Group(
            "sheet-total",
            (Text(right - 1.4, y, f"SHEET {who.number} OF {who.total}", small, "end"),),
            title="Sheet number",
        )
    )
    y += small * LINE
    column.marks.append(
        Group("digest", (Text(left + 1.4, y, f"DESIGN DIGEST {who.digest}", small),), title="Digest")
    )
    column.marks.append(Text(right - 1.4, y, paper.name.split(",")[0], small, "end"))
    rule = bottom - letters.sheet_id * 1.5
    column.marks.append(Line(((left, rule), (right, rule)), "frame-thin"))
    big = Text(middle, bottom - letters.sheet_id * 0.3, who.id, letters.sheet_id, "middle", True)
    column.marks.append(Group("sheet-id", (big,), title="Sheet id"))
    for kind in ("sheet title", "scale", "issue date", "sheet number", "sheet id", "digest"):
        column.drawn.append(Noted("title-block", kind, "", left, y))
