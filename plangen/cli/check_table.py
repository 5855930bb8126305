"""Many designs of one check at a glance: a table of verdicts and counts, or the same as JSON. Pure."""

from __future__ import annotations

import json
from collections.abc import Sequence

from plangen.checking.finding import Status
from plangen.cli.check_one import VERDICTS, Told
from plangen.cli.colour import Paint
from plangen.cli.exits import Exit
from plangen.cli.findings_text import CAUTION, ORDER

FORMAT = "plangen-summary/1"
_COLOURS = {Exit.FINE: "green", Exit.FALLS_SHORT: "red", Exit.UNUSABLE: "yellow", Exit.FAULT: "red"}


def table_text(rows: Sequence[Told], paint: Paint) -> str:
    """Return a line for each design, its verdict and its findings by status, and how many of each verdict."""
    heads = ["design", "verdict", *(status.words for status, _, _ in ORDER), "messages"]
    lines = [[t.design, t.verdict, *_counts(t), str(t.problems)] for t in rows]
    widths = [max(len(line[i]) for line in (heads, *lines)) for i in range(len(heads))]
    told = [paint("  ".join(_padded(heads, widths)), "bold")]
    for row, line in zip(rows, lines, strict=True):
        design, verdict, *rest = _padded(line, widths)
        told.append("  ".join([design, paint(verdict, _COLOURS[row.status]), *rest]))
    counted = ", ".join(f"{count:,} {verdict}" for verdict, count in tally(rows).items() if count)
    what = "design" if len(rows) == 1 else "designs"
    return "\n".join([*told, "", paint(f"{len(rows):,} {what}: {counted}", "bold"), CAUTION]) + "\n"


def table_json(rows: Sequence[Told]) -> str:
    """Return the same as JSON; `failing` are the required findings that fall short or are not known."""
    whole = {
        "format": FORMAT,
        "designs": [
            {
                "design": t.design,
                "verdict": t.verdict,
                "exit": int(t.status),
                "summary": dict(t.counts),
                "failing": list(t.failing),
                "messages": t.problems,
            }
            for t in rows
        ],
        "tally": tally(rows),
        "exit": int(max(t.status for t in rows)),
        "caution": CAUTION,
    }
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"


def tally(rows: Sequence[Told]) -> dict[str, int]:
    """Return how many designs came to each verdict, worst first; none is left out, also at nought."""
    return {verdict: sum(t.verdict == verdict for t in rows) for verdict in VERDICTS}


def _counts(told: Told) -> list[str]:
    """Return the counts in the order of the table; where nothing was checked a dash, never a nought."""
    counts = dict(told.counts)
    return [str(counts[Status(status)]) if counts else "-" for status, _, _ in ORDER]


def _padded(cells: list[str], widths: list[int]) -> list[str]:
    """Return the cells as wide as their columns: words to the left, counts to the right."""
    return [
        cell.ljust(width) if place < 2 else cell.rjust(width)
        for place, (cell, width) in enumerate(zip(cells, widths, strict=True))
    ]
