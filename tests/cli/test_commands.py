"""The commands: exit statuses, what goes to which stream, and that nobody ever sees a traceback.

Source of every expectation: the project's own contract for commands and exit statuses; no outside source.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from plangen.cli import check_one
from plangen.cli.main import main

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
RESIDENTIAL = EXAMPLES / "residential" / "design.plan"
# Enough of a design to be checked in a moment; it falls short of much.
SMALL = """plangen 1

project "Fern Row 8 front lawn" {
  jurisdiction   quillmoor
  units          us
}

site {
  coordinates    ft
  lot Lot        outline (0, 0) -> (60, 0) -> (60, 100) -> (0, 100)
}

supply {
  source W1      at (8, -7), static 62 psi measured 2026-04-20
}
"""


@pytest.fixture
def small(tmp_path):
    path = tmp_path / "small.plan"
    path.write_text(SMALL, encoding="utf-8")
    return path


@pytest.fixture
def changed(tmp_path):
    """Return a function that writes the residential design with one passage changed."""

    def write(old: str, new: str, name: str = "design.plan"):
        text = RESIDENTIAL.read_text(encoding="utf-8")
        assert old in text
        path = tmp_path / name
        path.write_text(text.replace(old, new), encoding="utf-8")
        return path

    return write


def run(capfd, *arguments):
    status = main([str(a) for a in arguments])
    out, err = capfd.readouterr()
    return status, out, err


def test_the_example_has_nothing_required_that_falls_short(capfd):
    status, out, err = run(capfd, "check", RESIDENTIAL)
    assert (status, err) == (0, "")
    assert "0 falls short" in out or "advisory" in out
    assert "Result: nothing required falls short" in out
    assert "local code, the water purveyor and licensed practice decide" in out


def test_falling_short_is_status_1_and_says_how_to_mend(capfd, changed):
    design = changed("critical level 28 in above grade", "critical level 12 in above grade")
    status, out, _ = run(capfd, "check", design)
    assert status == 1
    assert "assembly-above-outlets" in out and "to mend: " in out and "at least 12 in" in out
    line = design.read_text().split("assembly BF1")[0].count("\n") + 1
    assert f"design.plan:{line}:" in out


def test_not_known_is_status_1(capfd, changed):
    status, out, _ = run(capfd, "check", changed("  septic           none\n", ""))
    assert status == 1
    assert "NOT KNOWN" in out


@pytest.mark.parametrize(
    ("name", "raw"),
    [
        ("empty.plan", b""),
        ("binary.plan", bytes(range(256)) * 20),
        ("wide.plan", "plangen 1\n".encode("utf-16")),
        ("scan.pdf", b"%PDF-1.4 ..."),
        ("words.plan", b"please water my lawn\n"),
        ("brace.plan", b'plangen 1\nproject "x" {\n'),
    ],
)
@pytest.mark.parametrize("command", ["check", "build"])
def test_unusable_input_is_status_2_with_a_message(capfd, tmp_path, name, raw, command):
    (tmp_path / name).write_bytes(raw)
    more = ["--out", tmp_path / "out"] if command == "build" else []
    status, out, err = run(capfd, command, tmp_path / name, *more)
    assert (status, out) == (2, "")
    assert "PG" in err and "Traceback" not in err
    assert not (tmp_path / "out").exists()


def test_folders_and_missing_files_are_status_2(capfd, tmp_path):
    for path in (tmp_path, tmp_path / "none.plan"):
        status, out, err = run(capfd, "check", path)
        assert (status, out) == (2, "")
        assert "Traceback" not in err and "cannot be used" in err


def test_an_error_in_the_design_shows_the_line_and_gives_no_findings(capfd, changed):
    status, out, err = run(capfd, "check", changed("building House", "bilding House"))
    assert (status, out) == (2, "")
    assert "bilding" in err and "^" in err and "building" in err


def test_several_designs_have_the_highest_status(capfd, small, tmp_path):
    assert run(capfd, "check", RESIDENTIAL, small)[0] == 1
    assert run(capfd, "check", small, tmp_path / "none.plan", small)[0] == 2


def test_json_goes_to_standard_output_alone(capfd, small, tmp_path):
    status, out, err = run(capfd, "check", RESIDENTIAL, "--output", "json")
    assert (status, err) == (0, "")
    assert json.loads(out)["format"] == "plangen-report/1"
    status, out, err = run(capfd, "check", tmp_path / "none.plan", "--output", "json")
    assert status == 2 and json.loads(out)["stopped"] and "PG0002" in err
    _, out, _ = run(capfd, "check", small, small, "--output", "json")
    assert len(json.loads(out)["reports"]) == 2


def test_a_bug_is_status_3_and_one_paragraph(capfd, monkeypatch):
    def broken(*_):
        raise KeyError("pressure")

    monkeypatch.setattr(check_one, "run_job", broken)
    monkeypatch.delenv("PLANGEN_TRACEBACK", raising=False)
    status, out, err = run(capfd, "check", RESIDENTIAL)
    assert (status, out) == (3, "")
    assert err.count("\n") == 1 and "KeyError" in err and "report it" in err and "Traceback" not in err
    monkeypatch.setenv("PLANGEN_TRACEBACK", "1")
    assert "Traceback" in run(capfd, "check", RESIDENTIAL)[2]


def test_a_foreign_folder_is_status_4_and_untouched(capfd, tmp_path):
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "thesis.txt").write_text("mine")
    status, out, err = run(capfd, "build", RESIDENTIAL, "--out", tmp_path / "out")
    assert (status, out) == (4, "")
    assert "not made by plangen" in err
    assert [p.name for p in (tmp_path / "out").iterdir()] == ["thesis.txt"]


def test_a_place_that_cannot_be_written_is_status_4(capfd, small, tmp_path):
    (tmp_path / "file").write_text("x")
    status, _, err = run(capfd, "build", small, "--out", tmp_path / "file" / "packet")
    assert status == 4
    assert "Traceback" not in err and "not written" in err


def test_without_the_pdf_library_the_rest_is_written_and_the_status_is_4(small, tmp_path):
    """The library is hidden in a process of its own, as on a machine that lacks it."""
    script = (
        "import sys\n"
        "class Hidden:\n"
        "    def find_spec(self, name, path=None, target=None):\n"
        "        if name in ('cairocffi', 'cairosvg'):\n"
        "            raise OSError('no library called \"cairo-2\" was found')\n"
        "sys.meta_path.insert(0, Hidden())\n"
        "from plangen.cli.main import main\n"
        "sys.exit(main(sys.argv[1:]))\n"
    )
    out = tmp_path / "out"
    done = subprocess.run(
        [sys.executable, "-c", script, "build", str(small), "--out", str(out)],
        capture_output=True,
        text=True,
        env=dict(os.environ, PYTHONPATH=str(ROOT)),
        check=False,
    )
    assert done.returncode == 4
    assert "libcairo2" in done.stderr and "Traceback" not in done.stderr
    assert (out / "index.html").is_file() and not (out / "plan-set.pdf").exists()


def test_explain_knows_rules_codes_and_findings(capfd, small):
    status, out, _ = run(capfd, "explain", "assembly-above-outlets")
    assert status == 0 and "344.50" in out and "To mend it" in out
    status, out, _ = run(capfd, "explain", "pg0004")
    assert status == 0 and "empty" in out
    identity = json.loads(run(capfd, "check", small, "--output", "json")[1])["findings"][0]["id"]
    assert run(capfd, "explain", identity)[0] == 0
    status, out, _ = run(capfd, "explain", identity, small)
    assert status == 0 and identity in out


def test_explain_suggests_the_nearest_name(capfd):
    status, out, err = run(capfd, "explain", "assembly-above-outlet")
    assert (status, out) == (2, "")
    assert "assembly-above-outlets" in err


def test_packs_are_listed_and_shown(capfd):
    status, out, err = run(capfd, "packs")
    assert (status, err) == (0, "")
    assert "model-us: " in out and "quillmoor: " in out
    status, out, _ = run(capfd, "packs", "show", "quillmoor")
    assert status == 0 and "main_cover" in out and "over model-us" in out
    status, _, err = run(capfd, "packs", "show", "quilmoor")
    assert status == 2 and "quillmoor" in err


def test_a_pack_of_the_users_own(capfd, tmp_path):
    own = tmp_path / "rules" / "village"
    own.mkdir(parents=True)
    text = (ROOT / "rules" / "model-us" / "pack.rules").read_text(encoding="utf-8")
    (own / "pack.rules").write_text(text.replace("pack model-us", "pack village"), encoding="utf-8")
    assert "village: " in run(capfd, "packs", "--rules", tmp_path / "rules")[1]


@pytest.mark.parametrize(
    "arguments", [[], ["chek"], ["check"], ["build", "x.plan"], ["check", "x", "--output", "xml"]]
)
def test_wrong_arguments_are_status_2(capfd, arguments):
    with pytest.raises(SystemExit) as left:
        main(arguments)
    assert left.value.code == 2
    assert "usage" in capfd.readouterr().err


def test_no_colour_in_files_and_with_no_color(capfd, small):
    assert "\x1b" not in run(capfd, "check", small)[1]


@pytest.mark.skipif(os.name == "nt", reason="needs a pipe that closes")
def test_a_reader_that_goes_away_is_no_fault(tmp_path, small):
    done = subprocess.run(
        f"{sys.executable} -m plangen check {small} | head -1",
        shell=True,
        capture_output=True,
        text=True,
        env=dict(os.environ, PYTHONPATH=str(ROOT)),
        check=False,
    )
    assert done.stderr == "" and done.stdout.count("\n") == 1


def test_help_needs_no_solver():
    """A start-up guard by imports, not by time: the command line itself loads no stage."""
    probe = (
        "import sys\nfrom plangen.cli.arguments import parser\nparser()\n"
        "heavy = {'lark', 'svgwrite', 'jinja2', 'markdown', 'pikepdf', 'cairosvg', 'plangen.model.read'}\n"
        "sys.exit(' '.join(sorted(heavy & set(sys.modules))) or 0)\n"
    )
    environment = dict(os.environ, PYTHONPATH=str(ROOT))
    done = subprocess.run(
        [sys.executable, "-c", probe], env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_check_loads_nothing_of_the_output_side(small):
    probe = (
        "import sys\nfrom plangen.cli.main import main\n"
        f"main(['check', {str(small)!r}])\n"
        "heavy = {'svgwrite', 'jinja2', 'markdown', 'pikepdf', 'cairosvg', 'numpy', 'scipy'}\n"
        "sys.exit(' '.join(sorted(heavy & set(sys.modules))) or 0)\n"
    )
    environment = dict(os.environ, PYTHONPATH=str(ROOT))
    done = subprocess.run(
        [sys.executable, "-c", probe], env=environment, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_what_advice_falls_short_has_a_heading_of_its_own(capfd, changed):
    design = changed("critical level 28 in above grade", "critical level 12 in above grade")
    _, out, _ = run(capfd, "check", design)
    required, advisory = (part.split("\n\n")[0] for part in out.split("FALLS SHORT: ")[1].split("ADVISORY, "))
    total, must = re.match(r"(\d+) \((\d+) required\)", required).groups()
    assert "assembly-above-outlets" in required and "(advisory)" not in required
    assert advisory.count(" (advisory)\n") == int(total) - int(must) > 0
    assert advisory.startswith(f"falls short: {int(total) - int(must)}\n")
    assert required.count("\n      at ") == int(must)


def test_a_vacuum_breaker_below_an_outlet_is_told_which_and_why(capfd, changed):
    design = changed("critical level 28 in above grade", "critical level 1 in above grade")
    _, out, _ = run(capfd, "check", design)
    lower = "because an outlet downstream lies higher than the critical level (highest outlet H34)"
    assert lower in out and "a pump stands or may stand downstream" not in out
    assert "in (highest outlet H34); at least 12 in is required" in out
