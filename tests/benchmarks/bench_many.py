"""How long `plangen check FOLDER` takes for many designs, and that none is lost among them.

Run by hand: `python -m tests.benchmarks.bench_many [DESIGNS]` (1,000 unless told). The designs are the
residential and the commercial example with their pressures, heights, demands and covers varied, and among
every fifty one that is empty and one that is broken. Printed: wall and processor time, the share of the
processors that was used, and the time of one design beside that of a process of its own.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
COMMAND = (sys.executable, "-m", "plangen", "check")
EMPTY, BROKEN = 17, 34  # places within each fifty


def design_text(number: int) -> str:
    """Return design `number`: the same for the same number, and unlike its neighbours."""
    if number % 50 == EMPTY:
        return ""
    if number % 3:
        text = _of("residential")
        text = text.replace("static 64 psi", f"static {58 + number % 41} psi")
        text = text.replace("lowest 58 psi", f"lowest {40 + number % 17} psi")
        text = text.replace("critical level 28 in", f"critical level {14 + number % 23} in")
        text = text.replace("demand 4 gpm", f"demand {2 + number % 7} gpm")
        text = text.replace("cover 12 in", f"cover {5 + number % 11} in")
    else:
        text = _of("commercial")
        text = text.replace("static 5.4 bar", f"static {3.5 + number % 29 / 10:.1f} bar")
        text = text.replace("relief port 450 mm", f"relief port {250 + number % 13 * 50} mm")
        text = text.replace("cover 500 mm", f"cover {300 + number % 19 * 20} mm")
    return text.replace("\nsite {", "\nsyte {") if number % 50 == BROKEN else text


def _of(name: str) -> str:
    return (EXAMPLES / name / "design.plan").read_text(encoding="utf-8")


def measure(command: tuple[str, ...], cache: str) -> tuple[str, float, float]:
    """Return what a command prints, and its wall and processor time in seconds, its children's with it."""
    env = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"} | {"PYTHONPATH": str(ROOT)}
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    told = subprocess.run(
        command, cwd=ROOT, env=env | {"XDG_CACHE_HOME": cache}, text=True, check=False, capture_output=True
    )
    faults = [line for line in told.stderr.splitlines() if "a fault of plangen's own" in line]
    sys.stderr.write("\n".join(faults[:3]))
    wall, after = time.perf_counter() - began, resource.getrusage(resource.RUSAGE_CHILDREN)
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return told.stdout, wall, spent


def main(designs: int) -> None:
    """Make the designs, check them in one command, and print what it took."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "designs"
        folder.mkdir()
        for number in range(designs):
            (folder / f"d{number:04}.plan").write_text(design_text(number), encoding="utf-8")
        cache = str(Path(place) / "cache")
        one = (*COMMAND, str(folder / "d0001.plan"))
        measure(one, cache)
        _, _, alone = measure(one, cache)
        out, wall, spent = measure((*COMMAND, str(folder), "--output", "json"), cache)
        table = json.loads(out)
    unusable = sum(n % 50 in (EMPTY, BROKEN) for n in range(designs))
    assert len(table["designs"]) == designs
    assert table["tally"]["cannot be used"] == unusable and table["tally"]["fault in plangen"] == 0
    print(f"{designs:,} designs: {', '.join(f'{n:,} {verdict}' for verdict, n in table['tally'].items())}")
    print(f"wall {wall:.0f} s, processor {spent:.0f} s, {spent / wall:.2f} processors used")
    print(f"one design {spent / designs:.2f} s; in a process of its own {alone:.2f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
