"""The sheets inside the page: each drawing, what is on it, and links to findings. Pure."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from html import unescape

from markupsafe import Markup, escape

from plangen.annotation.markers import shown
from plangen.checking.finding import Finding
from plangen.packet.anchors import finding_anchor, object_anchor, object_row_anchor, sheet_anchor
from plangen.packet.code_check import Drawn
from plangen.packet.contents import Contents
from plangen.packet.shared_groups import share_groups
from plangen.sheets.marks import Sheet

_ROOT = re.compile(r"^\s*(?:<\?xml[^>]*\?>\s*)?<svg\b[^>]*>", re.S)
_VIEW_BOX = re.compile(r'viewBox="([^"]+)"')
_OBJECT_GROUP = re.compile(r'<g\b[^>]*\bdata-object="([^"]*)"[^>]*\bid="([^"]+)"[^>]*>')
_GROUP_TAG = re.compile(r"<g\b[^>]*>|</g>")
_OBJECT = re.compile(r'\bdata-object="([^"]*)"')
# What the page's style says once for all drawings: text is black, and so are lines.
_THINNED = re.compile(r'(<(?:text|polyline)\b[^>]*?) (?:fill="#000"|stroke="#000")')
_MARKER = 'class="finding"'


@dataclass(frozen=True, slots=True)
class OnSheet:
    """One object of a sheet's list: where it is drawn, and its row in the list of all objects."""

    anchor: str
    name: str
    kinds: str
    zones: str
    drawing: str  # anchor inside the drawing, or empty
    row: str  # anchor of its figures and findings, or empty


@dataclass(frozen=True, slots=True)
class Drawing:
    """One sheet as the page shows it."""

    anchor: str
    id: str
    title: str
    scale: str
    size: str
    ratio: str  # width / height, for the room a drawing takes before it is put in
    file: str
    svg: Markup
    objects: tuple[OnSheet, ...]


def drawings(contents: Contents) -> tuple[Drawing, ...]:
    """Return every sheet of the set with its drawing."""
    made = [
        _drawing(sheet, svg, contents.findings)
        for sheet, svg in zip(contents.sheets.sheets, contents.svgs, strict=True)
    ]
    shared = share_groups([str(drawing.svg) for drawing in made])
    return tuple(replace(d, svg=Markup(svg)) for d, svg in zip(made, shared, strict=True))


def drawn_places(contents: Contents) -> Drawn:
    """Return the anchor of each (sheet, object) that is drawn, and of each (sheet, '')."""
    places: Drawn = {}
    for sheet, svg in zip(contents.sheets.sheets, contents.svgs, strict=True):
        places[sheet.id, ""] = sheet_anchor(sheet.id)
        places |= {(sheet.id, name): place for name, place in _drawn_objects(svg).items()}
    return places


def _drawn_objects(svg: str) -> dict[str, str]:
    """Return the id of each object that a drawing shows. The renderer makes ids unique in the whole set."""
    return {unescape(m[1]): m[2] for m in _OBJECT_GROUP.finditer(svg)}


def _drawing(sheet: Sheet, svg: str, findings: tuple[Finding, ...]) -> Drawing:
    return Drawing(
        anchor=sheet_anchor(sheet.id),
        id=sheet.id,
        title=sheet.title,
        scale="not to scale" if sheet.scale in ("", "none") else f"scale {sheet.scale}",
        size=f"{sheet.width_mm:g} by {sheet.height_mm:g} mm",
        ratio=f"{sheet.width_mm:g} / {sheet.height_mm:g}",
        file=f"sheets/{sheet.id}.svg",
        svg=Markup(inline_svg(sheet, svg, findings)),
        objects=_objects(sheet, svg, findings),
    )


def inline_svg(sheet: Sheet, svg: str, findings: tuple[Finding, ...]) -> str:
    """Return a drawing to stand inside the page: size left to the page, objects linked to their findings."""
    head = _ROOT.match(svg)
    box = _VIEW_BOX.search(head[0]) if head else None
    if head is None or box is None:
        raise ValueError(f"sheet {sheet.id} is no SVG drawing with a viewBox")
    label = escape(f"Drawing of sheet {sheet.id}, {sheet.title}")
    family = re.search(r'font-family="[^"]+"', head[0])
    root = (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="sheet" viewBox="{box[1]}" role="document"'
        f' aria-label="{label}" fill="none" stroke-linejoin="round" {family[0] if family else ""}>'
    )
    body = _THINNED.sub(r"\1", svg[head.end() :].rstrip())
    links = {f.subject: finding_anchor(f.id) for f in reversed(shown(findings))}
    return root + _linked(body, links)


def _linked(svg: str, links: dict[str, str]) -> str:
    """Return a drawing with links to findings around markers and objects.

    A marker leads to its gravest finding, an object to its row in the list of all objects. The links stay
    out of the tab order: the same places are reached from that list.
    """
    pieces: list[str] = []
    depth, open_at, done = 0, -1, 0
    href = name = ""
    for tag in _GROUP_TAG.finditer(svg):
        if tag[0] == "</g>":
            depth -= 1
            if depth == open_at:
                inside = svg[done : tag.end()]
                # A link needs a name: where the group has no words of its own, the object's is said.
                label = "" if "<text" in inside or "<title" in inside else f' aria-label="{name}"'
                pieces += [f'<a href="#{href}" tabindex="-1"{label}>', inside, "</a>"]
                done, open_at = tag.end(), -1
            continue
        link = _link_of(tag[0], links)
        if open_at < 0 and link and not tag[0].endswith("/>"):
            pieces.append(svg[done : tag.start()])
            done, open_at, href = tag.start(), depth, link
            found = _OBJECT.search(tag[0])
            name = found[1] if found else ""  # as it stands in the drawing: escaped
        if not tag[0].endswith("/>"):
            depth += 1
    return "".join([*pieces, svg[done:]])


def _link_of(tag: str, links: dict[str, str]) -> str:
    """Return the anchor that a group's start tag leads to, or nothing."""
    found = _OBJECT.search(tag)
    name = unescape(found[1]) if found else ""
    if name not in links:
        return ""
    if _MARKER in tag:
        return links[name]
    return object_anchor(name) if " id=" in tag else ""


def _objects(sheet: Sheet, svg: str, findings: tuple[Finding, ...]) -> tuple[OnSheet, ...]:
    drawn = _drawn_objects(svg)
    rows = []
    for name in sorted({d.object for d in sheet.inventory if d.object} | set(drawn)):
        entries = [d for d in sheet.inventory if d.object == name]
        about = any(f.subject == name for f in findings)
        rows.append(
            OnSheet(
                object_row_anchor(sheet.id, name),
                name,
                ", ".join(dict.fromkeys(d.kind.replace("-", " ") for d in entries)),
                ", ".join(sorted({d.zone for d in entries if d.zone})),
                drawn.get(name, ""),
                object_anchor(name) if about else "",
            )
        )
    return tuple(rows)
