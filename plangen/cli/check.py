"""`plangen check`: designs in, findings on standard output, messages on standard error.

Several designs share the machine's processors; what is printed stands in the order asked for, whatever was
done first.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

from plangen.build.apart import Lost, each_apart, processors
from plangen.build.designs import designs_of
from plangen.build.pipeline import Run
from plangen.cli.bar import Bar
from plangen.cli.check_one import Task, Told, check_one, lost, problems_text
from plangen.cli.colour import paint_for
from plangen.cli.exits import Exit

# Two designs are checked before a second process has begun.
WORTH_SHARING = 3


def check_command(arguments: argparse.Namespace) -> Exit:
    """Check every design; return the highest status."""
    designs = designs_of(arguments.designs)
    # A folder without a design stays a folder, and is told as a file that cannot be used.
    table = arguments.summary or any(p.is_dir() and p not in designs for p in arguments.designs)
    form = "counts" if table and arguments.output in ("text", "json") else arguments.output
    colours = (paint_for(sys.stdout).on, paint_for(sys.stderr).on)
    rows = check_all([Task(d, tuple(arguments.rules), form, colours) for d in designs])
    for row in rows:
        # In a table the messages of a design that can be used are counted; they are told by its own check.
        if not table or row.status > Exit.FALLS_SHORT:
            sys.stderr.write(row.messages)
    sys.stdout.write(result_text(rows, arguments.output, table))
    return max(row.status for row in rows)


def check_all(tasks: Sequence[Task]) -> list[Told]:
    """Return what each design comes to, in order; over all processors where that is worth it."""
    bar = Bar(sys.stderr, "checking designs", len(tasks))
    try:
        workers = processors() if len(tasks) >= WORTH_SHARING else 1
        results = each_apart(check_one, tasks, workers, bar.step)
    finally:
        bar.clear()
    return [lost(t) if isinstance(r, Lost) else r for t, r in zip(tasks, results, strict=True)]


def result_text(rows: Sequence[Told], output: str, table: bool) -> str:
    """Return what goes to standard output."""
    from plangen.cli.check_table import table_json, table_text

    pieces = [row.piece for row in rows if row.piece is not None]
    if output == "sarif":
        from plangen.cli.findings_sarif import sarif_text

        return sarif_text(pieces)
    if output == "junit":
        from plangen.cli.findings_junit import junit_text

        return junit_text(pieces)
    if output == "json":
        return table_json(rows) if table else json_text(pieces)
    paint = paint_for(sys.stdout)
    if table:
        return table_text(rows, paint)
    return "\n".join(pieces)


def json_text(reports: Sequence[dict[str, object]]) -> str:
    """Return the report of one design, or a list of reports in order under one heading."""
    from plangen.build.report import report_bytes

    if len(reports) == 1:
        return report_bytes(reports[0]).decode()
    whole = {"format": "plangen-reports/1", "reports": list(reports)}
    return json.dumps(whole, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def say_problems(run: Run, path: Path) -> None:
    """Put a run's messages on standard error."""
    sys.stderr.write(problems_text(run, path, paint_for(sys.stderr)))
