"""Many designs in one check: a table in the order asked for, whatever else goes wrong beside it.

No outside source: what is wanted are the exit statuses of the command's contract (of several designs the
highest) and that one design's fate never hinders another's.
"""

from __future__ import annotations

import io
import json
import os
import signal
from collections.abc import Callable
from pathlib import Path

import pytest

from plangen.build.apart import Lost, each_apart
from plangen.build.designs import designs_of
from plangen.cli.bar import Bar, bar_line
from plangen.cli.check_one import VERDICTS
from plangen.cli.main import main

Run = Callable[..., tuple[int, str, str]]
# The smallest of the examples: an old system whose assembly alone is replaced.
SMALL = (Path(__file__).resolve().parents[2] / "examples" / "replacement" / "design.plan").read_text("utf-8")
PRESSED = SMALL.replace("static", "statik", 1)


@pytest.fixture
def run(capfd: pytest.CaptureFixture[str]) -> Run:
    """Return a caller of the command line that gives status, output and messages."""

    def call(*arguments: object) -> tuple[int, str, str]:
        status = main([str(a) for a in arguments])
        out, err = capfd.readouterr()
        return status, out, err

    return call


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """Return a folder with two designs, one in parts, a broken one, an empty one, and what is no design."""
    plans = {
        "b.plan": SMALL,
        "bad.plan": PRESSED,
        "empty.plan": "",
        ".hidden/x.plan": "x",
        "notes.txt": "x",
    }
    first, _, rest = SMALL.partition("\nzone ")
    plans["a/whole.plan"] = first + '\n\ninclude "parts/rest.plan"\n'
    plans["a/parts/rest.plan"] = "zone " + rest
    for name, text in plans.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    return tmp_path


def test_one_bad_an_empty_and_a_missing_design_do_not_stop_the_rest(run: Run, folder: Path) -> None:
    gone = folder / "gone.plan"
    status, out, err = run("check", folder, gone)
    head, *rows = out.split("\n\n")[0].splitlines()
    found = {r.split()[0]: r.removeprefix(r.split()[0]).strip() for r in rows}
    names = ("a/whole.plan", "b.plan", "bad.plan", "empty.plan", "gone.plan")
    assert list(found) == [str(folder / n) for n in names]
    assert [v.startswith("cannot be used") for v in found.values()] == [False, False, True, True, True]
    # The same design in one file and in two comes to the same.
    assert found[str(folder / "a/whole.plan")] == found[str(folder / "b.plan")]
    assert status == 2
    assert "5 designs: 3 cannot be used" in out and "not an approval" in out
    assert head.split()[:2] == ["design", "verdict"]
    assert err.count("cannot be used; no rule was checked") == 3 and "statik" in err
    # Nothing that was checked has dashes, and nothing that was not has figures.
    assert all((" - " in told) == told.startswith("cannot") for told in found.values())


def test_the_table_as_json_agrees_with_each_designs_own_report(run: Run, folder: Path) -> None:
    status, out, _ = run("check", folder, "--output", "json")
    table = json.loads(out)
    assert table["format"] == "plangen-summary/1" and status == table["exit"] == 2
    rows = {Path(d["design"]).name: d for d in table["designs"]}
    alone, report, _ = run("check", folder / "b.plan", "--output", "json")
    facts = json.loads(report)
    assert rows["b.plan"]["summary"] == facts["summary"] and rows["b.plan"]["exit"] == alone
    bad = {"falls_short", "not_known"}
    failing = [f["id"] for f in facts["findings"] if f["severity"] == "required" and f["status"] in bad]
    assert rows["b.plan"]["failing"] == failing
    assert rows["empty.plan"]["summary"] == {} and rows["empty.plan"]["verdict"] == "cannot be used"
    assert sum(table["tally"].values()) == len(table["designs"]) == 4
    assert set(table["tally"]) == set(VERDICTS)


def test_a_folder_without_a_design_is_told(run: Run, tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("x", encoding="utf-8")
    status, out, err = run("check", tmp_path)
    assert (status, out) == (2, "") and "PG0003" in err


def test_a_packets_own_copies_are_no_designs(tmp_path: Path) -> None:
    (tmp_path / "packet" / "source").mkdir(parents=True)
    for name in ("a.plan", "packet/manifest.json", "packet/source/a.plan"):
        (tmp_path / name).write_text("x", encoding="utf-8")
    assert designs_of([tmp_path, tmp_path / "packet"]) == (tmp_path / "a.plan", tmp_path / "packet")


def ends_its_process(piece: int) -> int:
    if piece == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return piece * piece


@pytest.mark.skipif(
    not hasattr(signal, "SIGKILL"),
    reason="Windows has no SIGKILL to kill a worker with; runs on Linux and macOS",
)
def test_a_piece_whose_process_is_killed_is_lost_alone() -> None:
    done: list[int] = []
    results = each_apart(ends_its_process, range(8), 2, done.append)
    assert results == [Lost() if i == 3 else i * i for i in range(8)]
    assert done == list(range(1, 9))


class Screen(io.StringIO):
    """A terminal, or not."""

    def __init__(self, is_terminal: bool) -> None:
        super().__init__()
        self.is_terminal = is_terminal

    def isatty(self) -> bool:
        return self.is_terminal


@pytest.mark.parametrize("is_terminal", [True, False])
def test_the_bar_shows_on_a_terminal_alone_and_leaves_nothing(is_terminal: bool) -> None:
    screen = Screen(is_terminal)
    bar = Bar(screen, "checking designs", 1000, started=-1e9)
    bar.step(250)
    bar.clear()
    assert ("[######..................] 250 of 1,000" in screen.getvalue()) == is_terminal
    assert screen.getvalue().rpartition("\r")[2] == ""
    assert len(bar_line("checking designs", 1000, 1000, 20)) == 20
