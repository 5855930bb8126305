"""`plangen build`: check a design and write its packet as one folder."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from plangen.build.job import run_job
from plangen.build.progress import Progress
from plangen.build.since import revised_since
from plangen.build.source_files import NotAPacket
from plangen.build.write import WriteRefused, refuse_foreign, write_packet
from plangen.cli.check import say_problems
from plangen.cli.check_one import shown_folder, status_of
from plangen.cli.exits import Exit
from plangen.cli.findings_text import CAUTION, tally, verdict


def build_command(arguments: argparse.Namespace) -> Exit:
    """Build one packet. With errors in the design nothing is written; with findings the packet says so."""
    out: Path = arguments.out
    progress = Progress(sys.stderr)
    try:
        refuse_foreign(out.resolve())
    except (WriteRefused, OSError) as fault:
        return _not_written(out, fault)
    run = run_job(arguments.design, arguments.rules, progress.step)
    if run.checked is None:
        progress.done()
        say_problems(run, arguments.design)
        return Exit.UNUSABLE
    from plangen.build.products import make_products

    since: Path | None = arguments.since
    try:
        revised = revised_since(since, run.checked.design) if since is not None else None
    except (NotAPacket, OSError) as fault:
        progress.done()
        return _not_compared(since, fault)
    made = make_products(run, run.checked, progress.step, revised)
    progress.step("writing the packet")
    try:
        write_packet(out, made.products)
    except (WriteRefused, OSError) as fault:
        progress.done()
        return _not_written(out, fault)
    progress.done()
    say_problems(run, arguments.design)
    findings = run.checked.findings
    sheets = sum(product.path.startswith("sheets/") for product in made.products)
    sys.stdout.write(
        f"{shown_folder(arguments.design)}{run.name} -> {out.as_posix()}:"
        f" {sheets} sheets, digest {made.digest}\n"
        f"{tally(findings)}\n{verdict(findings)}\n{CAUTION}\n"
    )
    if made.pdf_missing:
        sys.stderr.write(f"plangen: plan-set.pdf and its two copies were not written: {made.pdf_missing}\n")
        return Exit.NOT_WRITTEN
    return status_of(run)


def _not_compared(since: Path | None, fault: Exception) -> Exit:
    said = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
    named = since.as_posix() if since is not None else ""
    sys.stderr.write(f"plangen: {named} cannot be compared with: {said}\n")
    return Exit.UNUSABLE


def _not_written(out: Path, fault: Exception) -> Exit:
    said = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
    sys.stderr.write(f"plangen: the packet was not written to {out.as_posix()}: {said}\n")
    return Exit.NOT_WRITTEN
