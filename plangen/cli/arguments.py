"""The command line: which commands exist and what each takes. No work is done here."""

from __future__ import annotations

import argparse
from pathlib import Path

from plangen import __version__
from plangen.advice.choice import MOST_LOOKS
from plangen.cli.review_arguments import add_review_commands
from plangen.cli.rule_folder import rule_folder
from plangen.cli.writing_arguments import add_writing_commands

_EXITS = """exit status:
  0  nothing required falls short
  1  something required falls short or is not known
  2  the input cannot be used; the messages say why
  3  a fault in plangen itself
  4  the output could not be written, or the PDF library is missing
"""


def parser() -> argparse.ArgumentParser:
    """Return the parser of the whole command line."""
    top = argparse.ArgumentParser(
        prog="plangen",
        description="Permit plans, hydraulics and code checks for lawn sprinklers on a drinking-water line,"
        " from one text file.",
        epilog=_EXITS,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="version", version=f"plangen {__version__}")
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")
    _check(commands)
    _build(commands)
    _advise(commands)
    _explain(commands)
    _packs(commands)
    add_writing_commands(commands)
    add_review_commands(commands)
    return top


def _command(
    commands: argparse._SubParsersAction[argparse.ArgumentParser], name: str, help: str
) -> argparse.ArgumentParser:
    return commands.add_parser(
        name, help=help, description=help, epilog=_EXITS, formatter_class=argparse.RawDescriptionHelpFormatter
    )


def _rules(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--rules",
        metavar="FOLDER",
        action="append",
        default=[],
        type=rule_folder,
        help="a folder of further rule packs (each a folder with a pack.rules); may be given several times",
    )


def _check(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    command = _command(commands, "check", "check designs against their rule packs")
    command.add_argument(
        "designs",
        metavar="DESIGN",
        nargs="+",
        type=Path,
        help="a design file, or a folder: every design in it, told as a table",
    )
    command.add_argument(
        "--summary",
        action="store_true",
        help="a table with one line for each design in place of its findings",
    )
    command.add_argument(
        "--output", choices=("text", "json", "sarif", "junit"), default="text", help="form of the result"
    )
    _rules(command)


def _build(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    command = _command(commands, "build", "check a design and write its permit packet")
    command.add_argument("design", metavar="DESIGN", type=Path, help="the design file")
    command.add_argument("--out", metavar="DIR", required=True, type=Path, help="the packet's folder")
    command.add_argument(
        "--since",
        metavar="PACKET",
        type=Path,
        help="an earlier packet: clouds ring what changed since, with the latest revision's delta",
    )
    _rules(command)


def _advise(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    about = "suggest the cheapest changes that make a design meet, and say on which day it still does"
    command = _command(commands, "advise", about)
    command.add_argument("design", metavar="DESIGN", type=Path, help="the design file; it is left as it is")
    command.add_argument(
        "--costs", metavar="FILE", type=Path, help="a cost table of your own, in place of the invented one"
    )
    command.add_argument(
        "--looks",
        metavar="COUNT",
        type=_count,
        default=MOST_LOOKS,
        help=f"how many variants may be worked out before the search is cut off; {MOST_LOOKS} unless told",
    )
    command.add_argument("--output", choices=("text", "json"), default="text", help="form of the result")
    _rules(command)


def _count(text: str) -> int:
    count = int(text)
    if count < 1:
        raise argparse.ArgumentTypeError("it must be at least 1")
    return count


def _explain(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    command = _command(commands, "explain", "explain a rule, a message code or a finding")
    command.add_argument(
        "name", metavar="NAME", help="a rule, a message code such as PG1001, or a finding's id"
    )
    command.add_argument("design", metavar="DESIGN", nargs="?", type=Path, help="the design a finding is of")
    _rules(command)


def _packs(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    command = _command(commands, "packs", "list, show, test or compare rule packs")
    command.add_argument(
        "action",
        choices=("list", "show", "test", "compare"),
        nargs="?",
        default="list",
        help="list all; show some; test the cases of some or all; compare two rule by rule",
    )
    command.add_argument("packs", metavar="PACK", nargs="*", help="the packs meant")
    _rules(command)
