"""Texts made to choke a reader get a message within bounded time and memory, and never a traceback.

The bounds (a gibibyte, so many seconds of processor time) are the project's own; no outside source.
"""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

resource = pytest.importorskip("resource", reason="limits of a process are set in another way here")

MEMORY_BYTES = 1 << 30
HEAD = "plangen 1\n\n"


def row(heads: int) -> str:
    """A zone with one row of heads along a lateral, at a spacing far below a hair."""
    names = ", ".join(f"H{i}" for i in range(heads))
    return f"{HEAD}zone Z1 {{\n  kind spray\n  heads {names} spray-15h, on L1, from 1 in every 0.001 in\n}}\n"


HOSTILE: dict[str, Callable[[], str]] = {
    "million-heads": lambda: row(1_000_000),
    "long-row": lambda: row(200_000),
    "braces": lambda: HEAD + "{" * 200_000 + "}" * 200_000 + "\n",
}
SLOW: dict[str, Callable[[], str]] = {
    "long-line": lambda: HEAD + "site { " + "x" * 50_000_000,
    "zero-bytes": lambda: HEAD + "\0" * 1000,
    "number": lambda: f"{HEAD}supply {{\n  source W1 at (8, -7), static {'9' * 50_000} psi\n}}\n",
    "row": lambda: row(20_000),
    "blocks": lambda: HEAD + "site {\n" * 200_000,
    "many-lines": lambda: (
        HEAD
        + "zone Z1 {\n"
        + "".join(f"  head H{i} spray-15h, at (1, 2), on L1, arc east to west\n" for i in range(30_000))
        + "}\n"
    ),
}


def told(
    folder: Path, text: str, seconds: int, memory_bytes: int = MEMORY_BYTES
) -> subprocess.CompletedProcess[str]:
    """Return how `plangen check` ends on a text, in a process that may use so much and no more."""
    design = folder / "design.plan"
    design.write_text(text, encoding="utf-8", newline="\n")

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_AS, (memory_bytes, memory_bytes))
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds))

    command = [sys.executable, "-m", "plangen", "check", str(design)]
    return subprocess.run(command, capture_output=True, encoding="utf-8", preexec_fn=limited, check=False)


def is_a_message(run: subprocess.CompletedProcess[str]) -> bool:
    return run.returncode == 2 and "error PG" in run.stderr and "Traceback" not in run.stderr


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_text_gets_a_message(name: str, tmp_path: Path) -> None:
    assert is_a_message(told(tmp_path, HOSTILE[name](), 10))


@pytest.mark.long
@pytest.mark.parametrize("name", SLOW)
def test_a_text_as_big_as_a_design_may_be_gets_one_within_a_minute(name: str, tmp_path: Path) -> None:
    assert is_a_message(told(tmp_path, SLOW[name](), 60))


def test_the_limits_bite(tmp_path: Path) -> None:
    """With a twentieth of the memory the same text cannot even be looked at: the limits are really set."""
    assert not is_a_message(told(tmp_path, HOSTILE["braces"](), 10, MEMORY_BYTES // 20))
