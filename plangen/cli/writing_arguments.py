"""The arguments of the commands that write or show texts: format, new, reference, handbook."""

from __future__ import annotations

import argparse
from pathlib import Path

_FORMAT_EXITS = """exit status:
  0  every file is laid out in the canonical way, or now is
  1  with --check or --diff: a file is not
  2  a file cannot be read or has syntax errors; it was left as it is
  4  a file could not be written
"""


def add_writing_commands(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the commands to the command line."""
    about = "lay design files out in the one canonical way; comments and meaning stay"
    command = commands.add_parser(
        "format",
        help=about,
        description=about,
        epilog=_FORMAT_EXITS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("designs", metavar="DESIGN", nargs="+", type=Path, help="a design file")
    command.add_argument(
        "--check", action="store_true", help="write nothing; status 1 if a file is laid out otherwise"
    )
    command.add_argument(
        "--diff", action="store_true", help="write nothing; show what would change, status 1 if anything"
    )
    about = "write a commented starter design and list what only you can find out"
    command = commands.add_parser("new", help=about, description=about)
    command.add_argument("design", metavar="FILE", type=Path, help="the file to write; it must not exist yet")
    about = "write the handbook as web pages that open from disk"
    command = commands.add_parser("handbook", help=about, description=about)
    command.add_argument("--out", metavar="DIR", required=True, type=Path, help="the handbook's folder")
