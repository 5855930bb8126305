"""A packet is made again from the texts inside it and compared.

Source of every expectation: the contract of `plangen verify`; SHA-256 from the standard library.
"""

from __future__ import annotations

import dataclasses
import hashlib
import json
import shutil
from pathlib import Path

import pytest

from plangen.build import includes, verify
from plangen.build.includes import LIBRARY, read_included
from plangen.build.inputs import Input, read_input
from plangen.build.source_files import NotAPacket, inside, read_claims
from plangen.build.verify import verify_packet
from plangen.cli.main import main
from plangen.shipped.folders import shipped_text
from tests.conftest import RESIDENTIAL, undrawn


@pytest.fixture
def copy(small_packet, tmp_path) -> Path:
    return Path(shutil.copytree(small_packet, tmp_path / "packet"))


def said_anew(folder: Path) -> None:
    """Make the manifest agree with the files as they are now, as a forger would."""
    path = folder / "manifest.json"
    facts = json.loads(path.read_text(encoding="utf-8"))
    for group, root in (("products", folder), ("inputs", folder / "source"), ("packs", folder / "source")):
        for row in facts[group]:
            data = (root / row["path"]).read_bytes()
            row |= {"sha256": hashlib.sha256(data).hexdigest(), "bytes": len(data)}
    path.write_text(json.dumps(facts, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


def silent(words: str) -> None:
    """Say nothing."""


@pytest.mark.long
def test_an_untouched_packet_is_the_same(packet, capsys):
    assert main(["verify", str(packet)]) == 0
    said = capsys.readouterr().out
    assert "Same: all" in said and "differs:" not in said
    assert json.loads((packet / "manifest.json").read_text(encoding="utf-8"))["digest"][:12] in said


def test_files_altered_to_agree_with_each_other_are_found_out(copy, capsys):
    """The height of the assembly raised in drawing, report and manifest; the design left as it is."""
    sheet = copy / "sheets" / "LI101.svg"
    sheet.write_text(sheet.read_text(encoding="utf-8").replace("BF1", "BF9", 1), encoding="utf-8")
    report = json.loads((copy / "report.json").read_text(encoding="utf-8"))
    forged = next(f for f in report["findings"] if f["status"] == "needs_person")
    forged["status"] = "meets"
    report["findings"] = [f for f in report["findings"] if f is forged or f["status"] != "needs_person"]
    (copy / "report.json").write_text(
        json.dumps(report, ensure_ascii=False, indent=1) + "\n", encoding="utf-8"
    )
    said_anew(copy)
    with undrawn():
        assert main(["verify", str(copy)]) == 1
    said = capsys.readouterr().out
    assert f"finding {forged['id']}: it says meets, should be needs_person" in said
    assert "left out; it should read: needs_person" in said
    for name in ("sheets/LI101.svg", "report.json", "manifest.json"):
        assert f"differs: file {name}" in said


@pytest.mark.long
def test_another_pack_and_foreign_files_are_told(copy):
    pack = copy / "source" / "rules" / "quillmoor" / "pack.rules"
    pack.write_bytes(pack.read_bytes() + b"# one more remark\n")
    (copy / "letter.txt").write_text("approved", encoding="utf-8")
    (copy / "takeoff.csv").unlink()
    with undrawn():
        result = verify_packet(copy, silent)
    assert not result.same
    told = "\n".join(result.differences)
    assert "input rules/quillmoor/pack.rules: its digest is not the one in the manifest" in told
    assert "file letter.txt: it does not belong to the packet" in told
    assert "file takeoff.csv: missing" in told
    assert any("quillmoor" in note and "not the pack of that name shipped" in note for note in result.notes)


def test_the_library_is_the_packets_own(tmp_path):
    """Parts shipped later with other figures change nothing: what was attached is what is read."""
    own = tmp_path / "own"
    own.mkdir()
    text = shipped_text("library", "parts.plan")
    (own / "parts.plan").write_text(text + "# as attached\n", encoding="utf-8")
    design = tmp_path / "design.plan"
    design.write_text("plangen 1\n\ninclude library parts\n", encoding="utf-8")
    root = read_input(design, "design.plan")
    assert isinstance(root, Input)
    (attached,), _ = read_included(design, root, own)
    (shipped,), _ = read_included(design, root)
    assert attached.name == shipped.name == f"{LIBRARY}/parts.plan"
    assert attached.raw.endswith(b"# as attached\n") and not shipped.raw.endswith(b"# as attached\n")
    told = verify._library_notes({attached.name: attached.raw})
    assert told and "the packet's was used" in told[0]
    assert verify._library_notes({shipped.name: shipped.raw}) == []


@pytest.mark.long
def test_a_packet_is_verified_against_the_library_it_carries(tmp_path, monkeypatch):
    text = RESIDENTIAL.read_text(encoding="utf-8")
    own = text.index("part spray-15q")
    text = text[:own] + text[text.index("part drip-filter") :]
    text = text.replace("plangen 1\n", "plangen 1\n\ninclude library parts\n", 1)
    (tmp_path / "design.plan").write_text(text, encoding="utf-8")
    assert main(["build", str(tmp_path / "design.plan"), "--out", str(tmp_path / "packet")]) in (0, 1)
    assert (tmp_path / "packet" / "source" / LIBRARY / "parts.plan").is_file()
    empty = tmp_path / "shipped later"
    empty.mkdir()
    monkeypatch.setattr(includes, "shipped_folder", lambda kind: empty)
    result = verify_packet(tmp_path / "packet", silent)
    assert result.same, result.differences


def test_other_tables_of_pipes_are_told(small_packet):
    claimed = read_claims(small_packet)
    assert {name for name, _ in claimed.tables} >= {"pipes.csv", "fittings.csv"}
    assert not [n for n in verify._version_notes(claimed) if "tables of pipes" in n]
    other = dataclasses.replace(claimed, tables=(("pipes.csv", "0" * 64), *claimed.tables[1:]))
    (told,) = (n for n in verify._version_notes(other) if "tables of pipes" in n)
    assert "pipes.csv" in told


def test_a_design_that_gives_nothing_differs(copy):
    design = copy / "source" / "design.plan"
    design.write_text(design.read_text(encoding="utf-8").replace("supply {", "suply {", 1), encoding="utf-8")
    said_anew(copy)
    result = verify_packet(copy, silent)
    assert any("gives no packet at all" in d for d in result.differences)


def test_what_is_no_packet_has_its_own_status(small_packet, tmp_path, capsys):
    (tmp_path / "empty").mkdir()
    (tmp_path / "broken").mkdir()
    (tmp_path / "broken" / "manifest.json").write_text("{", encoding="utf-8")
    bare = Path(shutil.copytree(small_packet, tmp_path / "bare"))
    shutil.rmtree(bare / "source")
    for name in ("empty", "broken", "bare", "nowhere"):
        assert main(["verify", str(tmp_path / name)]) == 2, name
        assert "cannot be verified" in capsys.readouterr().err


@pytest.mark.parametrize("path", ["../x", "a/../../x", "/etc/x", "c:/x", "a\\..\\x", "", "a\x00b"])
def test_no_path_of_a_manifest_leads_out(path, copy):
    assert not inside(path)
    facts = json.loads((copy / "manifest.json").read_text(encoding="utf-8"))
    facts["inputs"][0]["path"] = path
    (copy / "manifest.json").write_text(json.dumps(facts), encoding="utf-8")
    with pytest.raises(NotAPacket):
        read_claims(copy)
