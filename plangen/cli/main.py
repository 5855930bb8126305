"""The `plangen` command: arguments to a command, its result to an exit status. The outermost layer."""

from __future__ import annotations

import argparse
import contextlib
import gc
import importlib
import io
import os
import sys
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path

from plangen import __version__
from plangen.cli.arguments import parser
from plangen.cli.exits import Exit
from plangen.diagnostics.catalogue import name_of

# The code of a bug of this program: no text brings it about.
OWN_FAULT = "PG0001"
# Results are trees of values, freed by counting. At Python's own thresholds the collector of cycles takes 6 %
# of a check of the demo design and 18 % of one of 1,000 heads and finds next to nothing (measured with
# `gc.callbacks`, see tests/benchmarks/bench_check.py).
COLLECT_AFTER = (200_000, 20, 20)


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit status; a fault of plangen's own becomes status 3."""
    _plain_streams()
    parsed = parser().parse_args(arguments)
    try:
        status = _dispatch(parsed.command)(parsed)
        sys.stdout.flush()
        return int(status)
    except BrokenPipeError:
        # The reader went away (`plangen check … | head`): nothing more can be said, and nothing is wrong.
        with contextlib.suppress(OSError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return int(Exit.NOT_WRITTEN)
    except KeyboardInterrupt:
        sys.stderr.write("plangen: stopped; nothing was changed\n")
        return 130
    except Exception as fault:  # the one place where a bug is caught
        sys.stderr.write(fault_text(fault))
        return int(Exit.FAULT)


def run() -> None:
    """Run the command line of this process and leave with its status."""
    gc.set_threshold(*COLLECT_AFTER)
    sys.exit(main())


def _dispatch(command: str) -> Callable[[argparse.Namespace], int]:
    """Return the function of a command. Imported only now: `--help` and `explain` need no solver."""
    found: Callable[[argparse.Namespace], int] = getattr(
        importlib.import_module(f"plangen.cli.{command}"), f"{command}_command"
    )
    return found


def fault_text(fault: BaseException) -> str:
    """Return what a bug says to its finder: one paragraph, and the traceback only on request."""
    if os.environ.get("PLANGEN_TRACEBACK") == "1":
        return "".join(traceback.format_exception(fault))
    frames = traceback.extract_tb(fault.__traceback__)
    place = f" in {Path(frames[-1].filename).name}, line {frames[-1].lineno}" if frames else ""
    said = " ".join(str(fault).split())
    told = f"{type(fault).__name__}: {said[:200]}" if said else type(fault).__name__
    return (
        f"error {OWN_FAULT} {name_of(OWN_FAULT)}: a fault of plangen's own, not of your design"
        f" ({told}{place}). Nothing was written."
        f" Please report it to the project with this message, the version (plangen {__version__},"
        f" Python {sys.version.split()[0]}, {sys.platform}) and, if you may share it, the design file."
        " PLANGEN_TRACEBACK=1 in the environment shows where it happened.\n"
    )


def _plain_streams() -> None:
    """Write UTF-8 with plain line ends wherever the output goes to a file or a pipe, on every system."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            if stream.isatty():
                stream.reconfigure(errors="replace")
            else:
                stream.reconfigure(encoding="utf-8", errors="replace", newline="\n")
