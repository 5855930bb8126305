"""What would be said again word for word is said once, with every place; nothing else is joined."""

from __future__ import annotations

from pathlib import Path

from plangen.diagnostics.render_text import MOST_PLACES, alike, render_all
from plangen.model.read import read_design
from plangen.text.source import SourceFile, SourceSet

BASE = (Path(__file__).parent / "base.plan").read_text(encoding="utf-8")


def _told(text: str) -> str:
    source = SourceFile.of("garden.plan", text)
    return render_all(read_design(source).problems, SourceSet((source,)))


def _lateral(name: str, material: str) -> str:
    return f"  lateral {name} {material} 1 in, route (0, 0) -> (1, 1)\n"


def test_a_material_misnamed_in_three_pipes_is_told_once_with_three_places() -> None:
    zone = 'zone Z9 "Ninth" {\n' + "".join(_lateral(f"L9{n}", "brass") for n in (1, 2, 3)) + "}\n"
    told = _told(BASE.rstrip("\n") + "\n\n" + zone)
    first = BASE.rstrip("\n").count("\n") + 4
    assert told.count("no pipe material `brass`") == 1
    assert f"garden.plan:{first}:15" in told
    assert f"  the same at {first + 1}:15, {first + 2}:15\n" in told


def test_two_materials_stay_two_messages() -> None:
    zone = 'zone Z9 "Ninth" {\n' + _lateral("L91", "brass") + _lateral("L92", "bronze") + "}\n"
    told = _told(BASE.rstrip("\n") + "\n\n" + zone)
    assert "`brass`" in told and "`bronze`" in told and "the same at" not in told


def test_a_long_list_of_places_is_counted_and_nothing_is_lost() -> None:
    many = MOST_PLACES + 3
    zone = 'zone Z9 "Ninth" {\n' + "".join(_lateral(f"L{900 + n}", "brass") for n in range(many)) + "}\n"
    source = SourceFile.of("garden.plan", BASE.rstrip("\n") + "\n\n" + zone)
    problems = read_design(source).problems
    assert sorted(map(len, alike(problems)))[-1] == many
    assert " and 2 places more\n" in render_all(problems, SourceSet((source,)))
