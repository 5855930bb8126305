"""Whether the water path hangs together: everything named on it can be reached from the source."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.design import Design
from plangen.text.source import Span
from plangen.text.suggest import listed


def check_connected(design: Design, problems: Problems) -> None:
    """Report each group of devices and pipes that the source does not reach: one message a group.

    What is taken out needs no water, and brings none.
    """
    if design.source is None:
        return
    joined: dict[str, set[str]] = {}
    spans: dict[str, Span] = {d.name: d.span for d in design.devices if d.state != "removed"}
    if design.house is not None:
        spans[design.house.name] = design.house.span
    for name in spans:
        joined.setdefault(name, set())
    for pipe in (p for p in design.pipes if p.state != "removed"):
        nodes = [s.node for s in pipe.route if s.node]
        spans[pipe.name] = pipe.span
        for node in nodes:
            joined.setdefault(pipe.name, set()).add(node)
            joined.setdefault(node, set()).add(pipe.name)
    reached = _spread(design.source.name, joined)
    left = [n for n in sorted(spans, key=lambda n: (spans[n].start, n)) if n not in reached]
    while left:
        group = _spread(left[0], joined)
        members = [n for n in left if n in group]
        left = [n for n in left if n not in group]
        more = members[1:6]
        others = listed(
            [f"`{n}`" for n in more] + ([f"{len(members) - 6} more"] if len(members) > 6 else []), "and"
        )
        tail = f" with {others}" if others else ""
        problems.error(
            "PG3007",
            f"water from `{design.source.name}` does not reach `{members[0]}`{tail}",
            spans[members[0]],
            help="name it in the route of a pipe that the water reaches",
            labels=(Label(design.source.span, "the source"),),
        )


def _spread(start: str, joined: dict[str, set[str]]) -> set[str]:
    seen, todo = {start}, [start]
    while todo:
        for other in joined.get(todo.pop(), ()):
            if other not in seen:
                seen.add(other)
                todo.append(other)
    return seen
