"""The wheel is whole: built here, installed in a fresh environment, run from an empty folder."""

import json
import os
import shutil
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = ROOT / "examples" / "residential" / "design.plan"


def run(*command: str | Path, cwd: Path) -> subprocess.CompletedProcess[str]:
    clean = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "PLANGEN"))}
    return subprocess.run(
        list(map(str, command)), cwd=cwd, env=clean, capture_output=True, text=True, timeout=280
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("wheel")
    made = run(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", out, ROOT, cwd=out)
    assert made.returncode == 0, made.stdout + made.stderr
    (found,) = out.glob("plangen-*.whl")
    return found


def test_the_wheel_carries_every_data_folder_as_it_stands_in_the_checkout(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    tracked = subprocess.run(
        ["git", "ls-files", "grammar", "rules", "site", "examples"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    ).stdout.split()
    assert tracked
    assert [name for name in tracked if f"plangen/_data/{name}" not in names] == []
    assert "plangen/library/pipes.csv" in names


def test_the_installed_wheel_builds_a_packet_from_an_empty_folder(wheel: Path, tmp_path: Path) -> None:
    empty = tmp_path / "empty"
    empty.mkdir()
    shutil.copy(EXAMPLE, empty / "design.plan")
    venv.create(tmp_path / "env", with_pip=True)
    python = tmp_path / "env" / ("Scripts" if os.name == "nt" else "bin") / "python"
    installed = run(python, "-m", "pip", "install", "-q", "--disable-pip-version-check", wheel, cwd=empty)
    assert installed.returncode == 0, installed.stderr
    where = run(python, "-c", "import plangen; print(plangen.__file__)", cwd=empty)
    assert str(tmp_path / "env") in where.stdout
    built = run(python.with_name("plangen"), "build", "design.plan", "--out", "packet", cwd=empty)
    assert built.returncode == 0, built.stdout + built.stderr
    assert "Traceback" not in built.stderr
    report = json.loads((empty / "packet" / "report.json").read_text(encoding="utf-8"))
    assert report["summary"]["meets"] > 0
    assert (empty / "packet" / "plan-set.pdf").read_bytes().startswith(b"%PDF-")


def test_it_runs_from_a_checkout_as_a_module(tmp_path: Path) -> None:
    checked = run(sys.executable, "-m", "plangen", "check", EXAMPLE, cwd=ROOT)
    assert checked.returncode == 0, checked.stdout + checked.stderr
