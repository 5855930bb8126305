"""How many messages does one slip of the hand give? Prints shares for a number of single edits.

Run: python tests/benchmarks/single_edits.py [EDITS] [SEED]
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))


def main(edits: int, seed: int) -> None:
    """Edit the residential example so many times and print what came of it."""
    from plangen.model.read import read_design
    from plangen.text.source import SourceFile
    from tests.syntax.single_edit import edited

    good = (ROOT / "examples" / "residential" / "design.plan").read_text(encoding="utf-8")
    rng, counts, far = random.Random(seed), Counter[int](), 0
    for _ in range(edits):
        text, line = edited(good, rng)
        source = SourceFile.of("design.plan", text)
        problems = read_design(source).problems
        counts[len(problems)] += 1
        if problems:
            places = [
                source.line_column(s)[0]
                for p in problems[:1]
                for s in (p.span.start, *(m.span.start for m in p.labels))
            ]
            far += min(abs(place - line) for place in places) > 1
    broken = edits - counts[0]
    print(f"{edits} edits, seed {seed}: {counts[0]} still mean something, {broken} are mistakes")
    for number in sorted(n for n in counts if n):
        print(f"  {number} message{'s' if number > 1 else ''}: {counts[number] / broken:.1%}")
    print(f"  first message more than a line away: {far / broken:.1%}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 500, int(sys.argv[2]) if len(sys.argv) > 2 else 1)
