"""How long `plangen check` takes, as ratios within one run, and what the collector of cycles costs it.

Run by hand: `python -m tests.benchmarks.bench_check [LARGE]`. Processor time of child processes is compared,
so that other work on the machine does not count. Goals: with a warm cache at most 3 times a process that
only starts Python, imports lark and loads the cached grammar; from 1,000 to 10,000 heads no more than 1.2
times linear; memory under 1 GiB.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.make_design import design_text

ROOT = Path(__file__).resolve().parents[2]
RESIDENTIAL = ROOT / "examples" / "residential" / "design.plan"
START = (
    "from plangen.syntax.read_tree import read_tree; from plangen.text.source import SourceFile; "
    "read_tree(SourceFile.of('a.plan', 'plangen 1\\n'))"
)
CHECK = "from plangen.cli.main import main; main(['check', {path!r}])"
SHIPPED = (
    "import sys; sys.argv = ['plangen', 'check', {path!r}]\n"
    "from plangen.cli.main import run\n"
    "try:\n    run()\nexcept SystemExit:\n    pass\n"
)
# How the collector of cycles is set: what stands before the command, and the command.
COLLECTORS = {
    "as shipped": SHIPPED,
    "default of Python": CHECK,
    "off": "import gc; gc.disable(); " + CHECK,
    "frozen at start": "import gc; import plangen.cli.check, plangen.sheets.compose; gc.freeze(); " + CHECK,
}
# Told at the end of the process: its processor time, its memory.
_WATCH = (
    "\nimport resource, sys; u = resource.getrusage(resource.RUSAGE_SELF); "
    "sys.stderr.write('\\n@' + repr([u.ru_utime + u.ru_stime, u.ru_maxrss]) + '\\n')"
)


def run(code: str, rounds: int = 3, cache: str | None = None) -> tuple[float, float]:
    """Return the least processor time in seconds and the greatest memory in MiB of a process."""
    times, memory = [], 0.0
    for _ in range(rounds):
        # A process as a user runs it: compiled modules are kept.
        env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
        env["PYTHONPATH"] = str(ROOT)
        if cache is not None:
            env["XDG_CACHE_HOME"] = cache
        told = subprocess.run(
            [sys.executable, "-c", code + _WATCH], cwd=ROOT, env=env, check=True, text=True,
            stdout=subprocess.DEVNULL, stderr=subprocess.PIPE,
        ).stderr  # fmt: skip
        seconds, kib = json.loads(told.rsplit("\n@", 1)[1])
        times.append(seconds)
        memory = max(memory, kib / 1024)
    return min(times), memory


def compare_start() -> None:
    """Print `check` of the demo design against a bare start, with a warm and an empty cache."""
    run(START, 1)
    bare, _ = run(START, 5)
    code = SHIPPED.format(path=str(RESIDENTIAL))
    warm, memory = run(code, 5)
    with tempfile.TemporaryDirectory() as folder:
        cold, _ = run(code, 1, folder)
    print(f"start with lark and grammar {bare:.3f} s")
    print(f"check, warm cache {warm:.3f} s, ratio {warm / bare:.2f}, {memory:.0f} MiB")
    print(f"check, empty cache {cold:.3f} s, ratio {cold / bare:.2f}")


def compare_growth(large: int) -> None:
    """Print `check` of a tenth and of the whole number of heads: growth over linear, and memory."""
    with tempfile.TemporaryDirectory() as folder:
        found = []
        for heads in (large // 10, large):
            path = Path(folder) / f"{heads}.plan"
            path.write_text(design_text(heads), encoding="utf-8")
            seconds, memory = run(SHIPPED.format(path=str(path)), 1)
            found.append(seconds)
            print(f"{heads} heads: {seconds:.2f} s, {memory:.0f} MiB")
        print(f"growth over linear {found[1] / found[0] / 10:.2f}")


def compare_collectors(heads: int) -> None:
    """Print `check` under each setting of the collector of cycles."""
    with tempfile.TemporaryDirectory() as folder:
        large = Path(folder) / "large.plan"
        large.write_text(design_text(heads), encoding="utf-8")
        for name, code in COLLECTORS.items():
            small, _ = run(code.format(path=str(RESIDENTIAL)), 3)
            seconds, memory = run(code.format(path=str(large)), 1)
            print(f"collector {name}: demo {small:.3f} s, {heads} heads {seconds:.2f} s, {memory:.0f} MiB")


if __name__ == "__main__":
    compare_start()
    compare_collectors(1000)
    compare_growth(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
