"""Clouds ring what a revision changed, and nothing else; nothing of the sheets moves for them."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from plangen.annotation.annotate import annotate
from plangen.annotation.clouds import Revised
from plangen.build.since import revised_since
from plangen.build.source_files import NotAPacket
from plangen.sheets.marks import Arc, Group, Sheet
from tests.sheets.sheet_set import composed, groups, ink_box, sheet, texts

HEIGHT = ("critical level 28 in above grade", "critical level 31 in above grade")
HEAD = ("head H15       spray-15h, at (2.5, 19)", "head H15       spray-15h, at (4.5, 19)")


def _named(page: Sheet, role: str) -> list[Group]:
    return [g for top in page.marks for g in groups(top) if g.role == role]


def test_only_what_changed_is_ringed_and_nothing_moves() -> None:
    base = composed()[1]
    found = annotate(base, (), Revised("B", ("BF1", "H15"), "0" * 64))
    plan, plain = sheet(found, "LI101"), sheet(annotate(base, ()), "LI101")
    assert {g.object for g in _named(plan, "cloud")} == {"BF1", "H15"}
    assert [g for g in plan.marks if g.role != "revision-clouds"] == list(plain.marks)
    assert {g.object for g in _named(sheet(found, "LI501"), "cloud")} == {"BF1"}
    assert not _named(sheet(found, "LI621"), "cloud")


def test_each_delta_bears_the_letter_of_the_revision_and_lies_on_no_lettering() -> None:
    found = annotate(composed()[1], (), Revised("B", ("BF1", "H15", "V1", "L15"), "0" * 64))
    plan = sheet(found, "LI101")
    clouds = next(g for g in plan.marks if g.role == "revision-clouds")
    deltas = [t for g in groups(clouds) if g.role == "delta" for t in texts(g)]
    assert deltas and {t.text for t in deltas} == {"B"}
    others = [ink_box(t) for top in plan.marks if top.role != "revision-clouds" for t in texts(top)]
    for letter in deltas:
        a = ink_box(letter)
        assert not any(a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3] for b in others)


def test_the_edges_of_clouds_cross_no_lettering() -> None:
    """Half circles, as drawn, against the boxes of all letters: plane geometry."""
    names = ("BF1", "H15", "V1", "L15", "V4", "N21", "P8", "DR1", "H21", "V3")
    found = annotate(composed()[1], (), Revised("B", names, "0" * 64))
    plan = sheet(found, "LI101")
    letters = [(t, ink_box(t)) for top in plan.marks if top.role != "revision-clouds" for t in texts(top)]
    crossed = set()
    for cloud in _named(plan, "cloud"):
        for arc in (m for m in cloud.marks if isinstance(m, Arc)):
            for i in range(13):
                angle = math.radians(arc.start_deg + 15 * i)
                x = arc.centre[0] + arc.radius * math.sin(angle)
                y = arc.centre[1] - arc.radius * math.cos(angle)
                crossed |= {t.text for t, b in letters if b[0] < x < b[2] and b[1] < y < b[3]}
        assert len(cloud.marks) >= 4, cloud.object
    assert len(_named(plan, "cloud")) == len(names)
    assert crossed == set()


def test_changes_are_read_from_the_texts_that_the_earlier_packet_carries(packet: Path) -> None:
    design = composed(HEIGHT, HEAD)[0]
    revised = revised_since(packet, design)
    assert revised.objects == ("BF1", "H15")
    assert revised.label == "A"  # the design's latest revision
    assert revised_since(packet, composed()[0]).objects == ()


def test_a_folder_that_is_no_packet_cannot_be_compared_with(tmp_path: Path) -> None:
    with pytest.raises(NotAPacket):
        revised_since(tmp_path, composed()[0])
