"""Rule blocks of rule text, from lark trees; what a rule must say and does not is reported here."""

from __future__ import annotations

from dataclasses import dataclass, field

from plangen.checking import pack_text as w
from plangen.checking import tree as t
from plangen.checking.finding import RuleSource
from plangen.checking.line_parser import Node, parse_line
from plangen.checking.lines import Block
from plangen.checking.messages import Code
from plangen.checking.read_expression import expression, token_span, tree_span, unquoted
from plangen.checking.read_limits import read_clauses
from plangen.diagnostics.diagnostic import Label, Problems
from plangen.text.source import Span


@dataclass(slots=True)
class _Draft:
    """What the lines of one block have said so far."""

    file: str
    problems: Problems
    said: dict[str, object] = field(default_factory=dict)
    places: dict[str, Span] = field(default_factory=dict)
    when: list[t.Expr] = field(default_factory=list)
    sources: list[RuleSource] = field(default_factory=list)
    steps: list[w.StepText] = field(default_factory=list)
    broken: bool = False

    def set(self, key: str, value: object, span: Span) -> None:
        if key in self.said:
            self.problems.error(
                Code.REPEATED_LINE,
                f"`{key}` is said twice in this rule",
                span,
                labels=(Label(self.places[key], "first said here"),),
            )
        self.places.setdefault(key, span)
        self.said[key] = value

    def expression(self, node: Node) -> t.Expr | None:
        """Return the expression of a tree, or None after reporting a number that makes no sense."""
        try:
            return expression(self.file, node)
        except ZeroDivisionError:
            self.problems.error(Code.SYNTAX, "a fraction divides by nought", tree_span(self.file, node))
            self.broken = True
            return None


def read_rule(file: str, text: str, header: Node, block: Block, problems: Problems) -> w.RuleText:
    """Return one rule. A line that cannot be read leaves a hole and a message."""
    tokens = header.children
    name = next(c for c in tokens if c.type == "NAME")
    strings = [unquoted(c) for c in tokens if c.type == "STRING"]
    draft = _Draft(file, problems)
    for line in block.body:
        node = parse_line(text, line, "rule_line", problems)
        if node is None:
            draft.broken = True
        else:
            _line(draft, node, line)
    span = token_span(file, name)
    replaces = header.data == "replace_header"
    if replaces and not strings[1].strip():
        problems.error(Code.NO_REASON, f"the rule `{name}` is replaced without a reason", span)
    _want_all(draft, str(name), span)
    return w.RuleText(
        str(name),
        strings[0],
        span,
        when=tuple(draft.when),
        sources=tuple(draft.sources),
        steps=tuple(draft.steps),
        replaces=replaces,
        because=strings[1] if replaces else "",
        **{k: v for k, v in draft.said.items() if k != "ask_word"},  # type: ignore[arg-type]
    )


def _line(draft: _Draft, node: Node, line: Span) -> None:
    kind, parts = node.data, node.children
    if kind in ("for_each", "for_the", "once"):
        draft.set("how", kind, line)
        if kind != "once":
            draft.set("relation", t.Path(str(parts[1]), token_span(draft.file, parts[1])), line)
        if len(parts) > 2:
            draft.set("where", draft.expression(parts[3]), line)
    elif kind == "when":
        condition = draft.expression(parts[1])
        draft.when += [] if condition is None else [condition]
    elif kind == "require":
        draft.set("require", draft.expression(parts[1]), line)
    elif kind in ("ask", "or_ask"):
        draft.set("ask", unquoted(parts[1]), line)
        draft.said["ask_word"] = kind
    elif kind in ("why", "fix"):
        draft.set(kind, unquoted(parts[1]), line)
    elif kind == "severity":
        draft.set("severity", str(parts[1]), line)
    elif kind == "unwaivable":
        draft.set("waivable", False, line)
    elif kind == "source":
        clauses = read_clauses(parts[2:], unquoted(parts[1]), line, draft.problems)
        draft.sources += [] if clauses.source is None else [clauses.source]
    elif kind == "step":
        condition = draft.expression(parts[3]) if len(parts) > 2 else None
        draft.steps.append(w.StepText(unquoted(parts[1]), condition, line))


def _want_all(draft: _Draft, name: str, span: Span) -> None:
    """Report what the rule does not say; a rule with a broken line is not blamed for what that line held."""
    if draft.broken:
        return
    said, problems = draft.said, draft.problems

    def missing(what: str, help: str) -> None:
        problems.error(Code.MISSING_LINE, f"the rule `{name}` {what}", span, help=help)

    if "how" not in said:
        missing("does not say what it is about", "add `for each RELATION`, `for the RELATION` or `once`")
    if "require" not in said and "ask" not in said:
        missing("requires nothing", 'add `require ...`, or `ask "..."` for what only a person can see')
    if said.get("ask_word") == "or_ask" and "require" not in said:
        missing("has `or ask` without `require`", "write `ask` alone")
    if said.get("ask_word") == "ask" and "require" in said:
        missing("has `ask` beside `require`", "write `or ask`: it holds where the requirement is not known")
    for key, example in (("severity", "severity required"), ("why", 'why "..."'), ("fix", 'fix "..."')):
        if not said.get(key):
            missing(f"does not say its `{key}`", f"add `{example}`")
    if not draft.sources:
        missing("has no source", 'add `source "...", section "...", edition "...", read`')
