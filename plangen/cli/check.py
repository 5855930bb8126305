"""`plangen check`: designs in, findings on standard output, messages on standard error."""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path

from plangen.build.job import run_job
from plangen.build.pipeline import Run
from plangen.cli.colour import paint_for
from plangen.cli.exits import Exit
from plangen.cli.findings_text import failing, run_text
from plangen.cli.messages import messages_text


def check_command(arguments: argparse.Namespace) -> Exit:
    """Check every design; return the highest status."""
    runs = [(path, run_job(path, arguments.rules, _silent)) for path in arguments.designs]
    for path, run in runs:
        say_problems(run, path)
    if arguments.output == "json":
        sys.stdout.write(json_text([run for _, run in runs]))
    elif arguments.output == "sarif":
        from plangen.cli.findings_sarif import sarif_text

        sys.stdout.write(sarif_text((shown_folder(path), run) for path, run in runs))
    elif arguments.output == "junit":
        from plangen.cli.findings_junit import junit_text

        sys.stdout.write(junit_text((shown_folder(path), run) for path, run in runs))
    else:
        texts = [
            run_text(run, run.checked, shown_folder(path), paint_for(sys.stdout))
            for path, run in runs
            if run.checked is not None
        ]
        sys.stdout.write("\n".join(texts))
    return max(status_of(run) for _, run in runs)


def json_text(runs: list[Run]) -> str:
    """Return the report of one design, or a list of reports in order under one heading."""
    from plangen.build.report import report_bytes, report_facts

    reports = [report_facts(run) for run in runs]
    if len(reports) == 1:
        return report_bytes(reports[0]).decode()
    whole = {"format": "plangen-reports/1", "reports": reports}
    return json.dumps(whole, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def say_problems(run: Run, path: Path) -> None:
    """Put a run's messages on standard error."""
    if run.problems:
        paint = paint_for(sys.stderr)
        sys.stderr.write(messages_text(run.problems, run.sources, shown_folder(path), paint))
    if run.stopped:
        sys.stderr.write(f"plangen: {path.as_posix()} cannot be used; no rule was checked\n")


def status_of(run: Run) -> Exit:
    """Return the exit status one run deserves."""
    if run.checked is None:
        return Exit.UNUSABLE
    return Exit.FALLS_SHORT if failing(run.checked.findings) else Exit.FINE


def shown_folder(path: Path) -> str:
    """Return the folder to put before file names in messages: as the user wrote it, with a slash."""
    parent = path.parent.as_posix()
    return "" if parent == "." else f"{parent.rstrip('/')}/"


def _silent(words: str) -> None:
    """Say nothing: a check is over before a line could be read."""
