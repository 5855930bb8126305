"""`plangen format` at the command line: what it writes, what it leaves alone, its statuses."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from plangen.cli.main import main

LAID_OUT = "plangen 1\n\nsite {\n  coordinates    ft\n  north          0 deg\n}\n"
ROUGH = "plangen 1\nsite {\ncoordinates ft\n north   0deg\n}\n"


@pytest.fixture
def design(tmp_path: Path) -> Path:
    path = tmp_path / "yard.plan"
    path.write_bytes(ROUGH.encode())
    return path


def test_it_writes_in_place_and_once(design: Path, capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["format", str(design)]) == 0
    assert design.read_bytes() == LAID_OUT.encode()
    assert capfd.readouterr().err.endswith("laid out\n")
    before = design.stat().st_mtime_ns
    assert main(["format", str(design)]) == 0
    assert design.stat().st_mtime_ns == before
    assert list(design.parent.iterdir()) == [design]


def test_check_writes_nothing_and_says_so(design: Path, capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["format", "--check", str(design)]) == 1
    assert "not laid out" in capfd.readouterr().err
    assert design.read_bytes() == ROUGH.encode()
    design.write_bytes(LAID_OUT.encode())
    assert main(["format", "--check", str(design)]) == 0


def test_diff_shows_the_change_and_writes_nothing(design: Path, capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["format", "--diff", str(design)]) == 1
    shown = capfd.readouterr().out
    assert "-coordinates ft\n" in shown and "+  coordinates    ft\n" in shown
    assert design.read_bytes() == ROUGH.encode()


def test_syntax_errors_leave_the_file_alone(design: Path, capfd: pytest.CaptureFixture[str]) -> None:
    design.write_bytes(b"plangen 1\nsite {\n north 0 deg; ft\n}\n")
    before = design.read_bytes()
    assert main(["format", str(design)]) == 2
    assert "PG1001" in capfd.readouterr().err
    assert design.read_bytes() == before


def test_line_ends_mode_and_links_stay(design: Path, tmp_path: Path) -> None:
    design.write_bytes(ROUGH.replace("\n", "\r\n").encode())
    design.chmod(0o640)
    link = tmp_path / "link.plan"
    try:
        link.symlink_to(design)
    except OSError:
        pytest.skip("this system makes no symbolic links")
    assert main(["format", str(link)]) == 0
    assert link.is_symlink()
    assert design.read_bytes() == LAID_OUT.replace("\n", "\r\n").encode()
    if os.name == "posix":
        assert stat.S_IMODE(design.stat().st_mode) == 0o640


def test_several_files_give_the_highest_status(design: Path, tmp_path: Path) -> None:
    fine = tmp_path / "fine.plan"
    fine.write_bytes(LAID_OUT.encode())
    assert main(["format", "--check", str(fine), str(design), str(tmp_path / "missing.plan")]) == 2
    assert main(["format", str(design), str(fine)]) == 0


def test_a_folder_that_takes_no_file_is_status_4(
    design: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    assert main(["format", str(design)]) == 4
    assert "was not written" in capfd.readouterr().err
    assert design.read_bytes() == ROUGH.encode()
    assert list(design.parent.iterdir()) == [design]
