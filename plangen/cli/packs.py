"""`plangen packs`: which rule packs there are, and what one of them asks."""

from __future__ import annotations

import argparse
import sys

from plangen.build.rule_book import read_rule_book
from plangen.checking.packs import CheckedPack
from plangen.cli.colour import paint_for
from plangen.cli.exits import Exit
from plangen.cli.messages import messages_text
from plangen.text.suggest import closest, listed


def packs_command(arguments: argparse.Namespace) -> Exit:
    """List all packs, or show one."""
    book = read_rule_book(arguments.rules)
    if book.problems:
        sys.stderr.write(messages_text(book.problems, book.sources, "", paint_for(sys.stderr)))
    if arguments.action == "list":
        sys.stdout.write("".join(_line(pack) for pack in book.packs))
        return Exit.UNUSABLE if book.problems else Exit.FINE
    pack = book.pack(arguments.pack)
    if pack is None:
        names = [p.name for p in book.packs]
        near = closest(arguments.pack, names)
        hint = f"a similar name exists: {near}" if near else f"the packs are {listed(names, 'and')}"
        asked = f"there is no pack `{arguments.pack}`" if arguments.pack else "name the pack to show"
        sys.stderr.write(f"plangen: {asked}; {hint}\n")
        return Exit.UNUSABLE
    sys.stdout.write(pack_text(pack))
    return Exit.FINE


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
    lines += ["", f"Limits ({len(pack.limits)})"]
    for limit in pack.limits:
        value = limit.written or ", ".join(limit.words)
        lines.append(f"  {limit.name}: {value} ({limit.about}; {limit.pack}; {limit.source.title})")
        lines += [f"    was {r.written} in {r.pack}: {r.because}" for r in limit.replaced]
    lines += ["", f"Rules ({len(pack.rules)})"]
    lines += [f"  {rule.name}: {rule.title} ({rule.severity}, {rule.pack})" for rule in pack.rules]
    if pack.switched_off:
        lines += ["", f"Switched off ({len(pack.switched_off)})"]
        lines += [f"  {off.rule}: {off.because}" for off in pack.switched_off]
    return "\n".join(lines) + "\n"
