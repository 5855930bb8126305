"""Generated pages are as the tables are, and hold every word of the language and every fact."""

from __future__ import annotations

import re

import pytest

from plangen.build.generated import generated_pages
from plangen.diagnostics.catalogue import catalogue
from plangen.facts.vocabulary import VOCABULARY
from plangen.model.read import read_design
from plangen.model.reference import language_reference
from plangen.model.schema.blocks import BLOCKS
from plangen.model.schema.shape import Want
from plangen.model.schema.unsaid import unsaid
from plangen.quantity.dimension import UNITS
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceFile

PAGES = generated_pages()


@pytest.mark.parametrize("name", sorted(PAGES))
def test_no_generated_file_is_stale(name: str) -> None:
    """`python -m plangen.build.generated` writes them anew."""
    assert shipped_text("site", *name.split("/")) == PAGES[name]


def test_the_reference_holds_every_block_statement_slot_unit_and_choice() -> None:
    page = language_reference()
    for block in BLOCKS.values():
        assert f"\n## {block.lead}\n" in page
        for spec in block.statements:
            start = page.index(f'id="{block.lead}-{"-".join(spec.lead)}"')
            part = page[start : page.find("\n### ", start)]
            for slot in spec.slots():
                assert slot.help in part
                assert not slot.lead or slot.words in part
                assert all(f"`{choice}`" in part for choice in slot.choices)
                if slot.want is not Want.ARC:
                    units = [u for u in UNITS.values() if u.dimension in slot.dimensions]
                    assert all(f"`{unit.symbol}`" in part for unit in units)


def test_the_facts_page_holds_every_fact() -> None:
    page = PAGES["handbook/facts.md"]
    for relation in VOCABULARY:
        start = page.index(f"\n## {relation.name} ")
        part = page[start : page.find("\n## ", start + 1)]
        assert all(f"| `{field.name}` |" in part for field in relation.fields)


def test_every_code_is_on_the_page_of_codes() -> None:
    found = re.findall(r"^- \[(PG\d{4}) ([a-z0-9-]+)\]", PAGES["handbook/codes.md"], re.MULTILINE)
    assert found == [(entry.code, entry.name) for entry in catalogue().values()]
    assert "## Other" not in PAGES["handbook/codes.md"]


def test_what_the_reference_says_of_silence_is_what_the_reader_takes() -> None:
    text = shipped_text("examples", "residential", "design.plan")
    text = text.replace("  sheet          ansi-b\n", "").replace("  units          us\n", "")
    text = text.replace("size 1 in, height -10 in, in box\n  tee N11", "height -10 in\n  tee N11")
    design = read_design(SourceFile.of("d.plan", text)).value
    assert design is not None and design.source is not None
    said = {
        (spec.lead[0], slot.field): unsaid(spec, slot)
        for block in BLOCKS.values()
        for spec in block.statements
        for slot in spec.slots()
    }
    assert said["sheet", "size"] == f"`{design.project.sheet}`"
    assert said["units", "system"] == f"`{design.project.units}`"
    valve = next(d for d in design.devices if d.name == "V1")
    assert valve.part is not None and valve.size == valve.part.size
    assert said["valve", "size"] == "that of its part"
    assert not valve.in_box and said["valve", "in_box"] == "no"
    assert said["valve", "state"] == f"`{valve.state}`"
    assert said["source", "state"] == f"`{design.source.state}`"
    assert said["building", "state"] == f"`{design.site.buildings[0].state}`"
    assert {f"`{p.state}`" for p in design.pipes if p.name.startswith("L")} == {said["lateral", "state"]}
