"""Pack text to `PackText`: blocks and lines read, names not yet looked up.

In: one source text. Out: what it says, and every fault met; a broken line hides no other line and a broken
block no other block.
"""

from __future__ import annotations

import datetime
from dataclasses import replace

from plangen.checking import pack_text as w
from plangen.checking.line_parser import Node, parse_line
from plangen.checking.lines import Block, blocks, clean
from plangen.checking.messages import Code
from plangen.checking.read_duties import read_duty
from plangen.checking.read_expression import token_span, unquoted
from plangen.checking.read_limits import read_limit, read_table
from plangen.checking.read_rules import read_rule
from plangen.diagnostics.diagnostic import Label, Outcome, Problems
from plangen.text.source import SourceFile, Span

_REQUIRED = ("title", "authority", "edition", "effective", "contact", "facts")


def read_pack(source: SourceFile) -> Outcome[w.PackText]:
    """Return what a pack's text says, or None if it has no pack block."""
    problems = Problems()
    text = clean(source.text)
    pack: w.PackText | None = None
    limits: list[w.LimitText] = []
    tables: list[w.TableText] = []
    duties: list[w.DutyText] = []
    rules: list[w.RuleText] = []
    off: list[w.SwitchOff] = []
    found = blocks(source, text, problems)
    for block in found:
        node = parse_line(text, block.header, "header", problems)
        if node is None:
            continue
        if node.data == "pack_header":
            pack = _read_pack(source.name, text, node, block, pack, problems)
        elif node.data == "limit_line":
            limits += _some(read_limit(source.name, node, problems))
        elif node.data == "table_line":
            tables += _some(read_table(source.name, node, problems))
        elif node.data.startswith("duty_"):
            duty = read_duty(source.name, node, problems)
            duties += [duty] if duty is not None else []
        elif node.data == "off_line":
            name, _, reason = node.children[1:]
            off.append(w.SwitchOff(str(name), unquoted(reason), token_span(source.name, name)))
        else:
            rules.append(read_rule(source.name, text, node, block, problems))
    if pack is None:
        # A pack line that could not be read has had its message.
        if not any(text.startswith("pack", b.header.start) for b in found):
            problems.error(
                Code.NO_PACK_BLOCK,
                "this text has no `pack` block",
                Span(source.name, 0, 1),
                help="begin with `pack NAME {`",
            )
        return Outcome(None, problems.done())
    _report_repeats([*limits, *tables], "limit or table", problems)
    _report_repeats(rules, "rule", problems)
    whole = replace(
        pack,
        limits=tuple(limits),
        tables=tuple(tables),
        duties=tuple(duties),
        rules=tuple(rules),
        switched_off=tuple(off),
    )
    return Outcome(whole, problems.done())


def _some(item: w.LimitText | w.TableText | None) -> list:
    return [] if item is None else [item]


def _read_pack(
    file: str, text: str, header: Node, block: Block, earlier: w.PackText | None, problems: Problems
) -> w.PackText:
    names = [c for c in header.children if c.type == "NAME"]
    span = token_span(file, names[0])
    if earlier is not None:
        problems.error(
            Code.DUPLICATE_NAME,
            "a text holds one pack",
            span,
            labels=(Label(earlier.span, "the first pack block"),),
        )
    said: dict[str, object] = {}
    places: dict[str, Span] = {}
    broken = False
    for line in block.body:
        node = parse_line(text, line, "pack_line", problems)
        if node is None:
            broken = True
            continue
        key, value = _pack_line(node, line, problems)
        if key in said:
            first = (Label(places[key], "first said here"),)
            problems.error(Code.REPEATED_LINE, f"`{key}` is said twice", line, labels=first)
        places.setdefault(key, line)
        said[key] = value
    # A real place is the rule and an invented one the exception, so that no banner is forgotten.
    needed = _REQUIRED if said.get("invented") else (*_REQUIRED, "banner")
    for key in needed:
        # What a broken line held may be what is missing.
        if not said.get(key) and not broken:
            problems.error(
                Code.MISSING_LINE,
                f"the pack `{names[0]}` does not say its `{key}`",
                span,
                help="say `invented place` if it is one" if key == "banner" else f"add a line `{key} ...`",
            )
    parent = str(names[1]) if len(names) > 1 else ""
    return w.PackText(str(names[0]), span, parent, **said)  # type: ignore[arg-type]


def _pack_line(node: Node, line: Span, problems: Problems) -> tuple[str, object]:
    word = str(node.children[0])
    if node.data == "pack_invented":
        return "invented", True
    if node.data == "pack_facts":
        return "facts", str(node.children[1])
    if node.data == "pack_effective":
        try:
            return word, datetime.date.fromisoformat(str(node.children[1]))
        except ValueError:
            problems.error(Code.SYNTAX, f"`{node.children[1]}` is no date of the calendar", line)
            return word, datetime.date.min
    return word, unquoted(node.children[1])


def _report_repeats(items: list, kind: str, problems: Problems) -> None:
    first: dict[str, Span] = {}
    for item in items:
        if item.name in first:
            problems.error(
                Code.DUPLICATE_NAME,
                f"the {kind} `{item.name}` is defined twice in this pack",
                item.span,
                labels=(Label(first[item.name], "first defined here"),),
            )
        first.setdefault(item.name, item.span)
