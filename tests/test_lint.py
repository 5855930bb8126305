"""The linter and the type checker find nothing in the package."""

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]


def run(*module: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", *module]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, timeout=280)


def test_ruff_is_clean() -> None:
    found = run("ruff", "check", "--no-cache", "plangen", "tests")
    assert found.returncode == 0, found.stdout


def test_mypy_is_clean(tmp_path: Path) -> None:
    found = run("mypy", "--cache-dir", str(tmp_path))
    assert found.returncode == 0, found.stdout
