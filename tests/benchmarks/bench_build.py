"""Time of a whole `build` against cairosvg alone on the same sheets one after another, as a ratio.

Run by hand: `python -m tests.benchmarks.bench_build [EXAMPLE]`. Both are cold processes; the best of several
rounds counts. Goal: at most 1. Also prints the size of the page and whether two builds agree to the byte.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROUNDS = 3
ALONE = """
import sys
import cairosvg
for path in sys.argv[1:]:
    cairosvg.svg2pdf(url=path)
"""


def seconds(command: list[str]) -> float:
    """Return the least time of several runs of a command."""
    found = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        subprocess.run(command, cwd=ROOT, capture_output=True, check=False)
        found.append(time.perf_counter() - start)
    return min(found)


def main(example: str) -> None:
    """Build an example, convert its sheets with cairosvg alone, and print the ratio."""
    design = ROOT / "examples" / example / "design.plan"
    with tempfile.TemporaryDirectory() as folder:
        packet, again = Path(folder) / "packet", Path(folder) / "again"
        build = [sys.executable, "-m", "plangen", "build", str(design), "--out"]
        subprocess.run([*build, str(packet)], cwd=ROOT, capture_output=True, check=False)
        own = seconds([*build, str(again)])
        sheets = sorted(str(p) for p in (packet / "sheets").glob("*.svg"))
        alone = seconds([sys.executable, "-c", ALONE, *sheets])
        same = all(
            p.read_bytes() == (again / p.relative_to(packet)).read_bytes()
            for p in sorted(packet.rglob("*"))
            if p.is_file()
        )
        page = (packet / "index.html").stat().st_size
    print(
        f"{example}: {len(sheets)} sheets, build {own:.2f} s, cairosvg alone {alone:.2f} s,"
        f" ratio {own / alone:.2f} on {os.cpu_count()} processors; page {page / 1e6:.2f} MB;"
        f" two builds {'agree' if same else 'DIFFER'}"
    )


if __name__ == "__main__":
    for name in sys.argv[1:] or ("residential", "commercial"):
        main(name)
