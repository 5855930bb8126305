"""How many messages does one slip of the hand give, and where? Prints shares for a number of single edits.

Every example, the tutorial's design and the one that says all of the language are broken by edits of a
keyword, a name, a unit, a bracket or a required field, each a mistake for certain. Counted are the mistakes
with exactly one message, those whose first message is on the right line, those that nobody noticed,
tracebacks, and readings that took more than twice as long as that of the whole text.

The right line is that of the edit; where a name is changed at its definition, also a line that uses it; where
a line is left empty, the code line before it; where a statement has lost something, also the line on which it
begins, and for a whole statement the line on which its block begins.

Run: python tests/benchmarks/single_edits.py [EDITS] [SEED] [--show]
"""

from __future__ import annotations

import os
import random
import re
import sys
import time
import traceback
from collections import Counter
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

SLOWER = 2.0
_PROCESSES = 2


@dataclass
class Tally:
    """What came of some edits; `odd` tells of those that were not as hoped."""

    edits: Counter[str] = field(default_factory=Counter)
    one: Counter[str] = field(default_factory=Counter)
    placed: Counter[str] = field(default_factory=Counter)
    messages: Counter[int] = field(default_factory=Counter)
    missed: int = 0
    crashed: int = 0
    slow: int = 0
    slowest: float = 0.0
    odd: list[str] = field(default_factory=list)

    def add(self, other: Tally) -> None:
        """Add the tally of another share of the edits."""
        for name in ("edits", "one", "placed", "messages"):
            getattr(self, name).update(getattr(other, name))
        self.missed += other.missed
        self.crashed += other.crashed
        self.slow += other.slow
        self.slowest = max(self.slowest, other.slowest)
        self.odd += other.odd


def texts() -> dict[str, str]:
    """Return the texts to be broken by name: every example, and the tutorial's design."""
    found = {
        p.parent.name: p.read_text(encoding="utf-8") for p in sorted(ROOT.glob("examples/*/design.plan"))
    }
    page = (ROOT / "site" / "handbook" / "tutorial.md").read_text(encoding="utf-8")
    found["tutorial"] = max(
        re.findall(r"^```plan complete\n(.*?)^```$", page, re.DOTALL | re.MULTILINE), key=len
    )
    found["everything"] = everything()
    return found


def everything() -> str:
    """Return the design that says all of the language, with those parts of the library that it names."""
    text = (ROOT / "tests" / "model" / "everything.plan").read_text(encoding="utf-8")
    library = (ROOT / "plangen" / "library" / "parts.plan").read_text(encoding="utf-8")
    parts = re.findall(r"^(part (\S+) \{\n.*?^\}\n)", library, re.DOTALL | re.MULTILINE)
    used = "\n".join(block for block, name in parts if re.search(rf" {name}[ ,]", text))
    return f"{text.replace('include library parts', '')}\n{used}"


def seconds(text: str, times: int = 1) -> float:
    """Return the least processor time in which a text is read."""
    from plangen.model.read import read_design
    from plangen.text.source import SourceFile

    least = float("inf")
    for _ in range(times):
        begin = time.process_time()
        read_design(SourceFile.of("design.plan", text))
        least = min(least, time.process_time() - begin)
    return least


def side_by_side(text: str, whole: str) -> float:
    """Return how many times longer a text takes than the whole one, each the least of readings in turn.

    Other work on the machine slows one reading and not the next, by a factor of two and more; what is read in
    turn is slowed alike.
    """
    pairs = [(seconds(text), seconds(whole)) for _ in range(7)]
    return min(a for a, _ in pairs) / min(b for _, b in pairs)


def broken(job: tuple[int, int, bool]) -> Tally:
    """Break the texts so many times and return what came of it."""
    from plangen.model.read import read_design
    from plangen.text.source import SourceFile
    from tests.syntax.mistakes import KINDS, Breaker

    edits, seed, timed = job
    rng, tally = random.Random(seed), Tally()
    breakers = {name: Breaker(text) for name, text in texts().items()}
    clean = {name: seconds(b.text, 5) for name, b in breakers.items()} if timed else {}
    for number in range(edits):
        name = rng.choice(sorted(breakers))
        mistake = breakers[name].mistake(KINDS[number % len(KINDS)], rng)
        source = SourceFile.of("design.plan", mistake.text)
        tally.edits[mistake.kind] += 1
        begin = time.process_time()
        try:
            problems = read_design(source).problems
        except Exception:
            tally.crashed += 1
            tally.odd.append(f"{name}: {mistake.kind}: {mistake.what}: {traceback.format_exc()}")
            continue
        spent = time.process_time() - begin
        if timed:
            share = spent / clean[name]
            if share > SLOWER:
                share = side_by_side(mistake.text, breakers[name].text)
            tally.slow += share > SLOWER
            tally.slowest = max(tally.slowest, share)
        _count(tally, name, mistake, source, problems)
    return tally


def _count(tally, name, mistake, source, problems) -> None:  # type: ignore[no-untyped-def]
    tally.messages[len(problems)] += 1
    if not problems:
        tally.missed += 1
        tally.odd.append(f"{name}: {mistake.kind}: {mistake.what}: missed")
        return
    place = source.line_column(problems[0].span.start)[0]
    tally.one[mistake.kind] += len(problems) == 1
    tally.placed[mistake.kind] += place in mistake.lines
    if len(problems) > 1 or place not in mistake.lines:
        told = "; ".join(f"{p.code} {source.line_column(p.span.start)[0]} {p.message}" for p in problems[:4])
        tally.odd.append(f"{name}: {mistake.kind}: {mistake.what}: {told}")


def main(edits: int, seed: int, show: bool) -> None:
    """Break the texts so many times on two processors and print what came of it."""
    from tests.syntax.mistakes import counted

    os.nice(10)
    whole = Tally()
    jobs = [
        (edits // _PROCESSES + (i < edits % _PROCESSES), seed * 1000 + i, True) for i in range(_PROCESSES)
    ]
    with ProcessPoolExecutor(_PROCESSES) as pool:
        for tally in pool.map(broken, jobs):
            whole.add(tally)
    made = sum(whole.edits.values())
    print(f"{made} edits of {len(texts())} designs, seed {seed}")
    print(f"  exactly one message: {sum(whole.one.values()) / made:.1%} ({counted(whole.one, whole.edits)})")
    placed = sum(whole.placed.values()) / made
    print(f"  first message on the right line: {placed:.1%} ({counted(whole.placed, whole.edits)})")
    print("  messages: " + ", ".join(f"{n}: {c}" for n, c in sorted(whole.messages.items())))
    print(f"  missed: {whole.missed}; tracebacks: {whole.crashed}")
    print(f"  slower than {SLOWER:g} times a clean reading: {whole.slow}; slowest {whole.slowest:.2f} times")
    for line in whole.odd if show else ():
        print(f"    {line}")


if __name__ == "__main__":
    numbers = [int(a) for a in sys.argv[1:] if a.isdigit()]
    main(numbers[0] if numbers else 500, numbers[1] if len(numbers) > 1 else 1, "--show" in sys.argv)
