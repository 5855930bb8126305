"""What a packet holds, and that it is the same wherever and whenever it is built.

Source of every expectation: the project's own contracts for `plangen build`, `report.json` and digests;
digests are recomputed with the standard library's hashlib.
"""

from __future__ import annotations

import csv
import hashlib
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest

from plangen.build.digest import inputs_digest, sheet_digest
from plangen.build.inputs import read_input
from plangen.build.job import run_job
from plangen.build.report import report_bytes, report_facts
from plangen.sheets.marks import Group, Sheet, Text
from plangen.text.source import SourceFile

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
RESIDENTIAL = EXAMPLES / "residential" / "design.plan"
DESIGNS = [
    pytest.param(
        path, id=path.parent.name, marks=() if path.parent.name == "replacement" else pytest.mark.long
    )
    for path in sorted(EXAMPLES.glob("*/*.plan"))
]
SCHEMA = json.loads((ROOT / "site" / "handbook" / "report.schema.json").read_text(encoding="utf-8"))


def silent(words: str) -> None:
    """Say nothing."""


def read_json(path: Path) -> dict:
    return json.loads(path.read_text(encoding="utf-8"))


def test_the_packet_holds_what_is_promised(packet):
    held = {p.relative_to(packet).as_posix() for p in packet.rglob("*") if p.is_file()}
    sheets = {name for name in held if name.startswith("sheets/")}
    source = {name for name in held if name.startswith("source/")}
    told = {"index.html", "plan-set.pdf", "report.json", "takeoff.csv", "manifest.json", "annual-test.ics"}
    told |= {"plan-set-submittal.pdf", "plan-set-record.pdf"}
    assert held - sheets - source == told
    packs = [pack["path"] for pack in read_json(packet / "manifest.json")["packs"]]
    assert source == {f"source/{name}" for name in ("design.plan", *packs)}
    assert sheets and all(name.endswith(".svg") for name in sheets)
    assert (packet / "plan-set.pdf").read_bytes().startswith(b"%PDF-1.")


def test_the_manifest_lists_every_file_with_its_digest(packet):
    manifest = read_json(packet / "manifest.json")
    listed = {p["path"]: p["sha256"] for p in manifest["products"]}
    held = {p.relative_to(packet).as_posix(): p for p in packet.rglob("*") if p.is_file()}
    del held["manifest.json"]
    assert listed == {name: hashlib.sha256(path.read_bytes()).hexdigest() for name, path in held.items()}
    design = hashlib.sha256(RESIDENTIAL.read_bytes()).hexdigest()
    assert manifest["inputs"] == [
        {"path": "design.plan", "sha256": design, "bytes": len(RESIDENTIAL.read_bytes())}
    ]
    for pack in manifest["packs"]:
        assert hashlib.sha256((ROOT / pack["path"]).read_bytes()).hexdigest() == pack["sha256"]
    assert [s["id"] for s in manifest["sheets"]]
    assert all(version not in ("", "missing") for version in manifest["libraries"].values())


@pytest.mark.parametrize("design", DESIGNS)
def test_every_report_fits_the_schema(design):
    run = run_job(design, (), silent)
    facts = json.loads(report_bytes(report_facts(run)))
    jsonschema.Draft202012Validator(SCHEMA).validate(facts)
    assert not facts["stopped"]


def test_a_stopped_report_fits_the_schema(tmp_path):
    broken = tmp_path / "broken.plan"
    broken.write_text(RESIDENTIAL.read_text(encoding="utf-8").replace("building House", "bilding House"))
    for path in (broken, tmp_path, tmp_path / "none.plan"):
        facts = json.loads(report_bytes(report_facts(run_job(path, (), silent))))
        jsonschema.Draft202012Validator(SCHEMA).validate(facts)
        assert facts["stopped"] and not facts["findings"] and facts["diagnostics"]


def test_the_schema_itself_is_one_and_refuses_a_lie(packet):
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    report = read_json(packet / "report.json")
    report["findings"][0]["status"] = "fine"
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.Draft202012Validator(SCHEMA).validate(report)


def test_the_report_agrees_with_itself(packet):
    report = read_json(packet / "report.json")
    statuses = [f["status"] for f in report["findings"]]
    assert report["summary"] == {s: statuses.count(s) for s in report["summary"]}
    ids = [f["id"] for f in report["findings"]]
    assert len(ids) == len(set(ids))
    assert "sha256" not in json.dumps([report["findings"], report["hydraulics"]])


def test_solved_networks_keep_flow_at_every_joint(packet):
    """Source: conservation of mass; the report's own figures to their nine digits."""
    for network in read_json(packet / "report.json")["hydraulics"]["networks"]:
        source = {s["node"] for s in network["sources"]}
        for node in network["nodes"]:
            if node["id"] in source:
                continue
            came = sum(link["flow_m3s"] for link in network["links"] if link["to"] == node["id"])
            went = sum(link["flow_m3s"] for link in network["links"] if link["from"] == node["id"])
            assert came - went == pytest.approx(node["demand_m3s"] + node["outflow_m3s"], abs=1e-8)


def test_the_takeoff_file_reads_as_the_report_says(packet):
    with (packet / "takeoff.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    told = read_json(packet / "report.json")["takeoff"]
    assert [row["item"] for row in rows] == [line["item"] for line in told]
    for row, line in zip(rows, told, strict=True):
        assert float(row["quantity"]) == pytest.approx(line["quantity"]["value"], abs=6e-4)


def test_no_product_tells_where_or_when_it_was_built(packet):
    for path in packet.rglob("*"):
        if path.suffix in (".html", ".json", ".csv", ".svg"):
            text = path.read_text(encoding="utf-8")
            assert str(ROOT) not in text
            assert str(packet.parent) not in text
            assert "\r" not in text


def test_two_builds_are_the_same_bytes(packet, tmp_path):
    """Another folder, hash seed, time zone and locale; a relative path; the same texts."""
    folder = tmp_path / "elsewhere" / "job"
    folder.mkdir(parents=True)
    shutil.copy(RESIDENTIAL, folder / "design.plan")
    environment = dict(os.environ, PYTHONHASHSEED="1", TZ="Asia/Tokyo", LC_ALL="C", PYTHONPATH=str(ROOT))
    run = subprocess.run(
        [sys.executable, "-m", "plangen", "build", "design.plan", "--out", "out"],
        cwd=folder,
        env=environment,
        capture_output=True,
        check=False,
    )
    assert run.returncode in (0, 1), run.stderr.decode()
    first = {p.relative_to(packet).as_posix(): p.read_bytes() for p in packet.rglob("*") if p.is_file()}
    out = folder / "out"
    second = {p.relative_to(out).as_posix(): p.read_bytes() for p in out.rglob("*") if p.is_file()}
    assert sorted(first) == sorted(second)
    assert [name for name in first if first[name] != second[name]] == []


def test_the_digest_does_not_hang_on_line_ends(tmp_path):
    text = RESIDENTIAL.read_text(encoding="utf-8")
    (tmp_path / "unix.plan").write_bytes(text.encode())
    (tmp_path / "other.plan").write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    digests = set()
    for name in ("unix.plan", "other.plan"):
        read = read_input(tmp_path / name, "design.plan")
        digests.add(inputs_digest([read.source]))
    assert len(digests) == 1
    assert inputs_digest([SourceFile.of("design.plan", text + " ")]) not in digests


def test_a_sheet_keeps_its_digest_when_only_the_issue_changes():
    def sheet(revision: str, label: str) -> Sheet:
        marks = (
            Group("frame", (Group("revision-block", (Text(1, 1, revision, 2),)), Text(1, 9, "frame", 2))),
            Group("plan", (Text(5, 5, label, 2),)),
        )
        return Sheet("LI101", "Plan", 100, 100, "1:100", marks)

    assert sheet_digest(sheet("A", "BF1")) == sheet_digest(sheet("B", "BF1"))
    assert sheet_digest(sheet("A", "BF1")) != sheet_digest(sheet("A", "BF2"))
