"""How pages are made from templates: every value is escaped, and a name that is not given is an error."""

from __future__ import annotations

from collections.abc import Mapping

from jinja2 import DictLoader, Environment, StrictUndefined


def templates(texts: Mapping[str, str]) -> Environment:
    """Return the environment of `texts` (template by name); it reads no file and fetches nothing."""
    environment = Environment(
        loader=DictLoader(dict(texts)),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.filters["quoted"] = quoted
    return environment


def quoted(text: str) -> str:
    """Return text as it stands between single quotes in a style (CSS Syntax Level 3, section 4.3.5)."""
    return "".join(f"\\{ord(c):x} " if c in "\\'" or ord(c) < ord(" ") else c for c in text)


def without_blank_lines(page: str) -> str:
    """Return the page without the blank lines and line ends that the templates' own clauses leave."""
    return "\n".join(line.rstrip() for line in page.splitlines() if line.strip()) + "\n"
