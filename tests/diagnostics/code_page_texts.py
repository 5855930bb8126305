"""Reads the pages of the codes, and puts the lines of a page into the small design beside this file."""

from __future__ import annotations

import re
from pathlib import Path

from plangen.shipped.folders import shipped_folder

BASE = Path(__file__).with_name("base.plan").read_text(encoding="utf-8")
_FENCE = re.compile(
    r"^## (Wrong|Right)\n\n(?:[A-Z][^\n]*[.:]\n\n)?```([a-z-]+)\n(.*?)\n```", re.MULTILINE | re.DOTALL
)


def page_files() -> dict[str, Path]:
    """Return the page of each code."""
    return {path.stem: path for path in sorted((shipped_folder("site") / "codes").glob("PG*.md"))}


def examples(path: Path) -> dict[str, tuple[str, str]]:
    """Return the wrong and the right text of a page, each with the kind of its fence."""
    return {which: (kind, body) for which, kind, body in _FENCE.findall(path.read_text(encoding="utf-8"))}


def whole_text(kind: str, body: str) -> str:
    """Return a whole design: the body itself, or the small design with the body's lines put in."""
    return body + "\n" if kind == "plan-file" else merged(BASE, body)


def merged(base: str, fragment: str) -> str:
    """Return the base with each line of the fragment put in place of its like, or added to its block."""
    lines = base.rstrip("\n").split("\n")
    for header, body in _blocks(fragment):
        key = tuple(header.split()[:2]) if header.startswith(("zone", "part")) else (header.split()[0],)
        start = next((i for i, line in enumerate(lines) if tuple(line.split()[: len(key)]) == key), None)
        if start is None:
            lines += ["", header, *body, "}"]
            continue
        used: set[int] = set()
        for statement in body:
            end = lines.index("}", start)
            same = [i for i in range(start + 1, end) if i not in used and _key(lines[i]) == _key(statement)]
            if same:
                lines[same[0]] = statement
                used.add(same[0])
            else:
                lines.insert(end, statement)
                used.add(end)
    return "\n".join(lines) + "\n"


def _blocks(fragment: str) -> list[tuple[str, list[str]]]:
    found: list[tuple[str, list[str]]] = []
    for line in fragment.split("\n"):
        if line.endswith("{"):
            found.append((line, []))
        elif line.strip() and line != "}":
            found[-1][1].append(line)
    return found


def _key(line: str) -> tuple[str, ...]:
    words = line.split()
    named = len(words) > 1 and (words[1][0].isupper() or words[1][0] == "(")
    return tuple(words[:2]) if named else tuple(words[:1])
