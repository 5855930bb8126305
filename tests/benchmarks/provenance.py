"""Marks each input of an example assumed and moves it: which findings cite it, which move?

Run: python tests/benchmarks/provenance.py [EXAMPLE] [EVERY]    (every so manyth input; 1 takes some minutes)
"""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))


def main(name: str, every: int) -> None:
    """Print each input of which what it moves and what cites it are not the same."""
    from tests.jobs.inputs_marked import compared, stated

    same = 0
    chosen = stated(name)[::every]
    for each in chosen:
        silent, idle = compared(name, each.key)
        same += not silent and not idle
        if silent or idle:
            print(f"{each.what}: moves and is not cited {len(silent)} {sorted(silent)[:6]}", end="; ")
            print(f"cited and idle {len(idle)} {sorted(idle)[:6]}", flush=True)
    print(f"{name}: {len(chosen)} inputs of {len(stated(name))}; the same move and cite for {same}")


if __name__ == "__main__":
    main(sys.argv[1] if len(sys.argv) > 1 else "residential", int(sys.argv[2]) if len(sys.argv) > 2 else 1)
