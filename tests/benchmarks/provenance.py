"""Marks each input of an example assumed and moves it: which findings cite it, which move?

Run: python tests/benchmarks/provenance.py OUT [EXAMPLE[:WHAT,WHAT]..]

Each input adds a line of JSON to OUT as soon as it is done, and one that is there already is left alone, so
that a run may be broken off. Without WHAT every input is taken, in seven rounds over the whole; without
EXAMPLE all four. A minute to ten for each example.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

EXAMPLES = ("residential", "commercial", "replacement", "broken")


def main(out: Path, chosen: list[str]) -> None:
    """Add what is not yet in the file, then say how many inputs agree, and which do not."""
    for each in chosen or EXAMPLES:
        name, _, only = each.partition(":")
        compare(out, name, set(only.split(",")) - {""})
        report(name, [r for r in _read(out) if r["example"] == name])


def compare(out: Path, name: str, only: set[str]) -> None:
    """Add a line for each input of an example that has none yet."""
    from tests.jobs.findings_moved import compared, stated, that_cite_each

    done = {r["input"] for r in _read(out) if r["example"] == name}
    cited, inputs = that_cite_each(name), stated(name)
    for each in (s for first in range(7) for s in inputs[first::7]):
        if each.what in done or (only and each.what not in only):
            continue
        found = compared(name, each.key, cited[each.key])
        line = {"example": name, "input": each.what, "cited_by": len(cited[each.key])}
        line |= {k: sorted(getattr(found, k)) for k in ("silent", "idle", "unturned")}
        with out.open("a", encoding="utf-8") as file:
            file.write(json.dumps(line) + "\n")


def report(name: str, lines: list[dict[str, list[str]]]) -> None:
    """Print the figures of one example."""
    missed = [r for r in lines if r["silent"] or r["idle"]]
    print(f"{name}: {len(lines)} inputs, {len(lines) - len(missed)} cited by exactly what they move")
    for r in missed:
        print(f"  {r['input']}: moves and is not cited {len(r['silent'])} {r['silent'][:6]}", end="; ")
        print(f"cited and idle {len(r['idle'])} {r['idle'][:6]}", flush=True)


def _read(out: Path) -> list[dict[str, list[str]]]:
    return [json.loads(line) for line in out.read_text("utf-8").splitlines()] if out.exists() else []


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2:])
