"""Groups that several drawings of one page have in common are drawn once and used again: smaller pages. Pure.

Only groups without ids, links and objects are shared, so nothing that can be chosen becomes a copy.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator

_TAG = re.compile(r"<g\b[^>]*>|</g>")
_NOT_SHARED = re.compile(r"\bid=|<a\b|\bdata-object=|</?svg\b|\bhref=")
# Shorter groups are not worth a reference.
_LEAST = 400


def share_groups(drawings: list[str]) -> list[str]:
    """Return the drawings with every repeated group replaced by a reference to its first appearance."""
    seen = Counter(group for svg in drawings for group in {svg[a:b] for a, b in _groups(svg)})
    names: dict[str, str] = {}
    return [_shared(svg, seen, names) for svg in drawings]


def _shared(svg: str, seen: Counter[str], names: dict[str, str]) -> str:
    pieces: list[str] = []
    done = 0
    for start, end in sorted(_groups(svg), key=lambda span: (span[0], -span[1])):
        group = svg[start:end]
        if start < done or seen[group] < 2:
            continue
        if group in names:
            piece = f'<use href="#{names[group]}"/>'
        else:
            names[group] = f"shared-{len(names) + 1}"
            piece = group.replace("<g", f'<g id="{names[group]}"', 1)
        pieces += [svg[done:start], piece]
        done = end
    return "".join([*pieces, svg[done:]])


def _groups(svg: str) -> Iterator[tuple[int, int]]:
    """Return the spans of the groups that may be shared."""
    starts: list[int] = []
    for tag in _TAG.finditer(svg):
        if tag[0].endswith("/>"):
            continue
        if tag[0] != "</g>":
            starts.append(tag.start())
            continue
        start = starts.pop()
        if tag.end() - start >= _LEAST and not _NOT_SHARED.search(svg, start, tag.end()):
            yield start, tag.end()
