"""`plangen advise` as a user runs it: results, exit status, what it leaves alone."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from plangen.cli.main import main
from tests.advice.standing_designs import SMALL, changed

SHORT = changed(SMALL, ("static 50 psi", "static 48 psi"))


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    """Run a command; return its status, its results and its messages."""
    status = main(list(words))
    said = capsys.readouterr()
    return status, said.out, said.err


def test_advice_as_data_and_the_file_left_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Water above 5 ft/s in three pipes: the next size for each, costs that add up; nothing is written."""
    design = tmp_path / "small.plan"
    design.write_text(SHORT, encoding="utf-8")
    status, out, _ = run(capsys, "advise", str(design), "--output", "json")
    facts = json.loads(out)
    assert status == 1 and not facts["meets"] and facts["found"] and facts["proven_cheapest"]
    assert {i["object"] for i in facts["items"]} == {"P2", "P3", "L1"}
    assert facts["cost"] == pytest.approx(sum(i["cost"] for i in facts["items"]))
    assert {f"plastic-velocity {n}" for n in ("P2", "P3", "L1")} <= set(facts["mended"])
    assert facts["difference"].startswith("--- small.plan") and "invented" in facts["costs"]["basis"]
    assert {q["status"] for q in facts["questions"]} == {"not_known"}
    assert [p.name for p in tmp_path.iterdir()] == ["small.plan"]
    assert design.read_text(encoding="utf-8") == SHORT


def test_prices_of_ones_own_count_and_a_slip_in_them_stops(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """With no price for 1 in pipe, the next priced size stands in; a bad table is refused with its line."""
    design, costs = tmp_path / "small.plan", tmp_path / "my.csv"
    design.write_text(SHORT, encoding="utf-8")
    head = "item,name,size,cost,per,basis,note\nmoney,EUR,,1,each,mine,\n"
    costs.write_text(f"{head}pipe,pvc,3/4 in,1,ft,mine,\npipe,pvc,1-1/4 in,2,ft,mine,\n", encoding="utf-8")
    status, out, _ = run(capsys, "advise", str(design), "--costs", str(costs))
    assert status == 1 and "3/4 in to 1-1/4 in" in out and "EUR" in out and "not an approval" in out
    assert "GO OR NO-GO BY THE RULES" in out
    costs.write_text(f"{head}pipe,pvc,3/4 in,cheap,ft,mine,\n", encoding="utf-8")
    status, out, err = run(capsys, "advise", str(design), "--costs", str(costs))
    assert status == 2 and not out and "my.csv, line 3" in err
    status, out, err = run(capsys, "advise", str(design), "--costs", str(tmp_path / "none.csv"))
    assert status == 2 and not out and "none.csv" in err


def test_the_packet_tells_the_least_supply_and_the_report_holds_it(packet: Path) -> None:
    """One figure in words for the crew, as data for others, with the rule and the object that govern."""
    least = json.loads((packet / "report.json").read_text(encoding="utf-8"))["least_supply"]
    page = (packet / "index.html").read_text(encoding="utf-8")
    told = page[page.index('id="go-no-go"') :][:4000]
    assert least["steady"] and least["gauge"]["unit"] == "psi" and not least["missing"]
    assert least["governing"][0]["rule"] in told and least["governing"][0]["subject"] in told
    shown = float(told.split("must show at least ")[1].split(" psi")[0])
    # Rounded up to a tenth, never down: a gauge that shows it is not below the figure.
    assert 0 <= shown - least["gauge"]["value"] <= 0.1 + 1e-9
    assert {c["case"] for c in least["cases"]} == {"Z1", "Z2", "Z3", "Z4"}
