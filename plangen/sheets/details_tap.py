"""The tee at the tap, from above and in section: depths and pipes to scale, fittings schematic."""

from __future__ import annotations

from plangen.model.design import Design
from plangen.model.waterworks import Device, Pipe
from plangen.sheets.details_box_marks import (
    HALF_BARREL,
    Depths,
    barrel,
    depths,
    pipe_ends,
    pipe_words,
    sized,
)
from plangen.sheets.details_dimensions import arrow, earth, lane, upright
from plangen.sheets.details_labels import Label
from plangen.sheets.details_section import NOT_STATED, Drawing, section_panel
from plangen.sheets.marks import Area, Circle, Group, Line
from plangen.sheets.panel import AnyMark, Noted, Panel

_GRADE_Y = 53.0  # the section's grade line under the view from above, mm


def tap_panel(design: Design, tap: Device, system: str, height: float) -> Panel:
    """Return the tee in the service from above, and the section with the covers of service and branch.

    House water goes straight on, irrigation to the branch.
    """
    before, _ = pipe_ends(design, tap.name)
    after = [p for p in design.pipes if p.route[0].node == tap.name]
    irrigation = next((p for p in after if p.role != "service"), None)
    house = next((p for p in after if p is not irrigation), None)
    y = 20.0
    marks: list[AnyMark] = [
        barrel(0.0, 22.0, y, before.name if before else ""),
        barrel(34.0, 58.0, y, house.name if house else ""),
        Group(
            "pipe",
            (
                Line(((28 - HALF_BARREL, y + 6), (28 - HALF_BARREL, y + 22)), "outline"),
                Line(((28 + HALF_BARREL, y + 6), (28 + HALF_BARREL, y + 22)), "outline"),
            ),
            irrigation.name if irrigation else "",
        ),
        _tee(tap, y),
        arrow((12.0, y), 90.0, 6.0),
        arrow((48.0, y), 90.0, 6.0),
        arrow((28.0, y + 17.0), 180.0, 6.0),
    ]
    covers = tuple(p.cover if p else None for p in (before, irrigation))
    scale = depths(covers, system, height)
    section, reach, said = _tap_section(before, irrigation, scale, height)
    drawing = Drawing(
        (*marks, *section),
        (-1.0 - 2 * lane(height) - 3.0, 12.0, 59.0, reach),
        (Label((3.0, y - HALF_BARREL), pipe_words(before, "FROM THE METER"), before.name if before else ""),),
        (*_tap_labels(tap, irrigation, house, y), *said),
        (Noted("symbol", "tap", tap.name, 28.0, y),),
        ((tap.name, 28.0, y),),
    )
    title = f"TAP {tap.name} SEEN FROM ABOVE, AND SECTION"
    return section_panel(drawing, "detail-tap", tap.name, title, scale.scale, height, height * 21)


def _tap_section(
    service: Pipe | None, branch: Pipe | None, scale: Depths, height: float
) -> tuple[tuple[AnyMark, ...], float, tuple[Label, ...]]:
    """Return the section along the service, how far down it reaches, and its labels."""

    def centre(pipe: Pipe | None) -> float:
        return _GRADE_Y + scale.mm(pipe.cover if pipe else None) + scale.half(pipe)

    low, high = centre(service), centre(branch)
    neck = min(2.2, max(scale.half(branch), HALF_BARREL))
    marks: list[AnyMark] = [
        Group("earth", (earth(0.0, 58.0, _GRADE_Y),)),
        Group("grade-line", (Line(((0.0, _GRADE_Y), (58.0, _GRADE_Y)), "earth"),), title="Finished grade"),
        barrel(0.0, 58.0, low, service.name if service else "", scale.half(service)),
        Group(
            "tee-body",
            (
                Area(
                    ((22, low - 2.8), (34, low - 2.8), (34, low + 2.8), (22, low + 2.8)), "outline", "white"
                ),
                Area(
                    ((28 - neck, low), (28 + neck, low), (28 + neck, high), (28 - neck, high)),
                    "outline",
                    "white",
                ),
            ),
        ),
        Group(
            "pipe",
            (Circle((28.0, high), scale.half(branch), "outline", "grey"),),
            branch.name if branch else "",
        ),
    ]
    at = -2.0
    for pipe, y in ((branch, high), (service, low)):
        if pipe is not None and pipe.cover is not None:
            top = y - scale.half(pipe)
            marks.append(Line(((at - 1.5, top), (28.0 if pipe is branch else 22.0, top)), "hair"))
            words = f"{pipe.name} COVER {pipe.cover.written}"
            marks.append(upright(at, _GRADE_Y, top, words, height, "dimension-cover", pipe.name))
        at -= lane(height) + 1.0
    only = "SECTION: DEPTHS AND PIPES TO SCALE; FITTINGS AND THE VIEW FROM ABOVE NOT"
    said = [Label((56.0, _GRADE_Y), f"FINISHED GRADE. {only}" if scale.per_m else "FINISHED GRADE")]
    if branch is not None:
        said.append(
            Label((28.0 + scale.half(branch), high), f"BRANCH {branch.name} TOWARD THE READER", branch.name)
        )
    return tuple(marks), low + 6.0, tuple(said)


def _tee(tap: Device, y: float) -> Group:
    """Return the tee's body from above, its branch down the sheet."""
    up, down = y - 2.8, y + 2.8
    body = (
        (22, up),
        (34, up),
        (34, down),
        (30.8, down),
        (30.8, y + 6),
        (25.2, y + 6),
        (25.2, down),
        (22, down),
    )
    return Group("tee-body", (Area(body, "outline", "white"),), tap.name, f"Tap {tap.name}")


def _tap_labels(tap: Device, irrigation: Pipe | None, house: Pipe | None, y: float) -> tuple[Label, ...]:
    what = tap.label or f"FITTING {NOT_STATED}"
    return (
        Label((28.0, y - 2.8), f"{tap.name}: {sized(tap.size, what)}, LISTED FOR DRINKING WATER", tap.name),
        Label((54.0, y), pipe_words(house, "TO THE HOUSE (POTABLE)"), house.name if house else ""),
        Label(
            (28.0, y + 20.0),
            pipe_words(irrigation, "TO THE ISOLATION VALVE (IRRIGATION)"),
            irrigation.name if irrigation else "",
        ),
    )
