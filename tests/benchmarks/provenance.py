"""Marks each input of the residential example assumed and moves it: which findings cite it, which move?

Run: python tests/benchmarks/provenance.py [EVERY]      (every so manyth input; 1 takes some minutes)
"""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))


def main(every: int) -> None:
    """Print each input of which what it moves and what cites it are not the same."""
    from tests.jobs.inputs_marked import of_words, stated, that_cite, that_move

    same = 0
    chosen = stated()[::every]
    for each in chosen:
        cite, move = that_cite(each), that_move(each, 1.03, 0.97)
        silent, idle = sorted(move - cite), sorted(cite - move - of_words(cite - move))
        if idle:
            # A regulator or a limit may hide a small move: only what a great one leaves alone is idle.
            idle = sorted(set(idle) - that_move(each, 1.6, 0.6))
        same += not silent and not idle
        if silent or idle:
            print(f"{each.what}: moves and is not cited {len(silent)} {silent[:4]}", end="; ")
            print(f"cited and idle {len(idle)} {idle[:4]}")
            sys.stdout.flush()
    print(f"{len(chosen)} inputs of {len(stated())}: the same findings move and cite for {same}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1)
