"""`plangen respond`: a reviewer's comments and the design's revisions as a response letter."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from plangen.build.job import run_job
from plangen.build.progress import Progress
from plangen.build.replace_file import replace_file
from plangen.build.source_files import NotAPacket
from plangen.cli.check import say_problems
from plangen.cli.exits import Exit
from plangen.packet.comments import NoWorksheet, Worksheet, read_worksheet


def respond_command(arguments: argparse.Namespace) -> Exit:
    """Write the letter; status 1 if a comment is not answered by any revision."""
    from plangen.build.page_texts import read_page_texts
    from plangen.build.respond import response_to
    from plangen.packet.letter import letter_html, letter_markdown

    comments: Path = arguments.comments
    try:
        worksheet = read_worksheet(comments.read_bytes())
    except (NoWorksheet, OSError) as fault:
        return _unusable(comments, fault)
    design = arguments.design or _design_of(worksheet, comments)
    if design is None:
        sys.stderr.write(
            f"plangen: {comments.as_posix()} names no design file that is here; name it with --design\n"
        )
        return Exit.UNUSABLE
    progress = Progress(sys.stderr)
    run = run_job(design, arguments.rules, progress.step)
    progress.done()
    say_problems(run, design)
    if run.checked is None:
        return Exit.UNUSABLE
    try:
        response = response_to(worksheet, run.checked, arguments.since)
    except (NotAPacket, OSError) as fault:
        return _unusable(arguments.since, fault)
    markdown = letter_markdown(response)
    if arguments.out is None:
        sys.stdout.write(markdown)
    else:
        status = _write(arguments.out, markdown, letter_html(response, read_page_texts()))
        if status is not Exit.FINE:
            return status
    return Exit.FALLS_SHORT if response.open else Exit.FINE


def _design_of(worksheet: Worksheet, comments: Path) -> Path | None:
    """Return the design that a worksheet names: beside it, or in the current folder."""
    name = Path(worksheet.design).name
    places = (comments.parent / name, Path(name)) if name else ()
    return next((p for p in places if p.is_file()), None)


def _write(out: Path, markdown: str, html: str) -> Exit:
    base = out.with_suffix("") if out.suffix in (".md", ".html") else out
    for suffix, text in ((".md", markdown), (".html", html)):
        path = base.with_name(base.name + suffix)
        try:
            replace_file(path, text.encode())
        except OSError as fault:
            said = fault.strerror or str(fault)
            sys.stderr.write(f"plangen: {path.as_posix()} was not written: {said}\n")
            return Exit.NOT_WRITTEN
        sys.stdout.write(f"{path.as_posix()}\n")
    return Exit.FINE


def _unusable(path: Path, fault: Exception) -> Exit:
    said = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
    sys.stderr.write(f"plangen: {path.as_posix()} cannot be used: {said}\n")
    return Exit.UNUSABLE
