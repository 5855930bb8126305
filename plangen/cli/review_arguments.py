"""The arguments of the commands for a review: verify and respond."""

from __future__ import annotations

import argparse
from pathlib import Path

from plangen.cli.rule_folder import rule_folder

_VERIFY_EXITS = """exit status:
  0  every file is what the attached design and packs give
  1  something differs
  2  the folder is not a packet, or carries nothing to make it again from
"""
_RESPOND_EXITS = """exit status:
  0  every comment is answered by a revision of the design
  1  a comment is not answered
  2  the comments, the design or the earlier packet cannot be used
  4  the letter could not be written
"""


def add_review_commands(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the commands to the command line."""
    _verify(commands)
    _respond(commands)


def _verify(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    about = "make a packet again from the texts inside it, and say what differs"
    command = commands.add_parser(
        "verify",
        help=about,
        description=about,
        epilog=_VERIFY_EXITS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("packet", metavar="DIR", type=Path, help="the packet's folder")


def _respond(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    about = "answer a reviewer's comments from the revisions of the design, as a letter"
    command = commands.add_parser(
        "respond",
        help=about,
        description=about,
        epilog=_RESPOND_EXITS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument(
        "comments", metavar="FILE", type=Path, help="the comments, saved from the packet's page"
    )
    command.add_argument(
        "--design",
        metavar="DESIGN",
        type=Path,
        help="the revised design; else the file of the name in FILE, beside it or in this folder",
    )
    command.add_argument(
        "--since",
        metavar="PACKET",
        type=Path,
        help="the packet that was reviewed: lists all that changed since",
    )
    command.add_argument(
        "--out",
        metavar="NAME",
        type=Path,
        help="write NAME.md and NAME.html; else Markdown to standard output",
    )
    command.add_argument(
        "--rules",
        metavar="FOLDER",
        action="append",
        default=[],
        type=rule_folder,
        help="a folder of further rule packs; may be given several times",
    )
