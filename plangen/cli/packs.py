"""`plangen packs`: which packs there are, what one asks, whether its cases hold, how two of them differ."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from plangen.build.pack_folders import pack_folders
from plangen.build.rule_book import RuleBook, read_rule_book
from plangen.checking.duties import KINDS
from plangen.checking.explain import source_words
from plangen.checking.packs import CheckedPack
from plangen.cli.colour import paint_for
from plangen.cli.exits import Exit
from plangen.cli.messages import messages_text
from plangen.text.suggest import closest, listed


def packs_command(arguments: argparse.Namespace) -> Exit:
    """Do one of the four things; a pack that cannot be read is told first."""
    book = read_rule_book(arguments.rules)
    if book.problems:
        sys.stderr.write(messages_text(book.problems, book.sources, "", paint_for(sys.stderr)))
        sys.stderr.write(_places(book, arguments.rules))
    if arguments.action == "list":
        sys.stdout.write("".join(_line(pack) for pack in book.packs))
        return Exit.UNUSABLE if book.problems else Exit.FINE
    chosen = _chosen(arguments, book)
    if chosen is None:
        return Exit.UNUSABLE
    if arguments.action == "show":
        sys.stdout.write("\n".join(pack_text(pack) for pack in chosen))
        return Exit.FINE
    if arguments.action == "compare":
        from plangen.cli.packs_compare import compare_text

        sys.stdout.write(compare_text(chosen[0], chosen[1]))
        return Exit.FINE
    from plangen.cli.packs_test import run_packs

    return run_packs(chosen, arguments.rules, paint_for(sys.stdout))


def _chosen(arguments: argparse.Namespace, book: RuleBook) -> list[CheckedPack] | None:
    """Return the packs named, or None after saying which name is wrong or how many are wanted."""
    names = [p.name for p in book.packs]
    if arguments.action == "test" and not arguments.packs:
        return list(book.packs)
    if arguments.action == "compare" and len(arguments.packs) != 2:
        sys.stderr.write(f"plangen: name the two packs to compare, of {listed(names, 'and')}\n")
        return None
    if not arguments.packs:
        sys.stderr.write(f"plangen: name the pack to show; the packs are {listed(names, 'and')}\n")
        return None
    found = []
    for name in arguments.packs:
        pack = book.pack(name)
        if pack is None:
            near = closest(name, names)
            hint = f"a similar name exists: {near}" if near else f"the packs are {listed(names, 'and')}"
            told = f"there is no pack `{name}`; {hint}"
            if name in pack_folders(arguments.rules):
                told = f"the pack `{name}` cannot be used before its faults are mended"
            sys.stderr.write(f"plangen: {told}\n")
            return None
        found.append(pack)
    return found


def _places(book: RuleBook, folders: list[Path]) -> str:
    """Return where the packs of named folders lie that the messages call by their names in a packet."""
    files = {p.span.file for p in book.problems}
    return "".join(
        f"plangen: rules/{name}/ is the folder {folder}\n"
        for name, folder in pack_folders(folders).items()
        if folder.parent in folders and any(f.startswith(f"rules/{name}/") for f in files)
    )


def _line(pack: CheckedPack) -> str:
    parents = [name for name in pack.chain if name != pack.name]
    over = f", over {listed(parents, 'and')}" if parents else ""
    return f"{pack.name}: {pack.title}, {pack.edition}, {len(pack.rules)} rules{over}\n"


def pack_text(pack: CheckedPack) -> str:
    """Return a pack's heading, its limits and its rules."""
    lines = [f"{pack.name}: {pack.title}"]
    lines += [
        f"authority: {pack.authority}",
        f"edition: {pack.edition}, in force from {pack.effective.isoformat()}",
    ]
    lines += [f"contact: {pack.contact}", f"chain: {' over '.join(reversed(pack.chain))}"]
    if pack.banner:
        lines.append(f"note: {pack.banner}")
    if pack.invented:
        lines.append("note: an invented place")
    lines += ["", f"Limits ({len(pack.limits)})"]
    for limit in pack.limits:
        value = limit.written or ", ".join(limit.words)
        lines.append(f"  {limit.name}: {value} ({limit.about}; {limit.pack}; {source_words(limit.source)})")
        lines += [f"    was {r.written} in {r.pack}: {r.because}" for r in limit.replaced]
    if pack.duties:
        lines += ["", f"What the packet prints ({len(pack.duties)})"]
        lines += [f"  {KINDS[d.kind]}: {d.told} ({d.pack}; {source_words(d.source)})" for d in pack.duties]
    lines += ["", f"Rules ({len(pack.rules)})"]
    for rule in pack.rules:
        asks = ", asks a person" if rule.require is None else ""
        lines.append(f"  {rule.name}: {rule.title} ({rule.severity}{asks}, {rule.pack})")
    if pack.switched_off:
        lines += ["", f"Switched off ({len(pack.switched_off)})"]
        lines += [f"  {off.rule}: {off.because}" for off in pack.switched_off]
    return "\n".join(lines) + "\n"
