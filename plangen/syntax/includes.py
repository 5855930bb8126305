"""The include lines of a design text: `include "parts/heads.plan"` and `include library parts`.

They stand at the left margin outside of blocks. They are taken out before the text is parsed, so that neither
the grammar nor what recovers from its errors has to know of other files; every place in the text stays.
"""

from __future__ import annotations

import re

from plangen.diagnostics.diagnostic import Problems
from plangen.syntax.tree import Include
from plangen.text.source import SourceFile, Span

_LINE = re.compile(r'^include(?![-.A-Za-z0-9])((?:[^"#\n]|"[^"\n]*"?)*)', re.MULTILINE)
_FILE = re.compile(r'[ \t\x0c\xa0]+"([^"\n]+)"[ \t\x0c\xa0\r]*')
_LIBRARY = re.compile(r"[ \t\x0c\xa0]+library[ \t\x0c\xa0]+([a-z][a-z0-9]*(?:-[a-z0-9]+)*)[ \t\x0c\xa0\r]*")


def take_includes(source: SourceFile, problems: Problems) -> tuple[SourceFile, tuple[Include, ...]]:
    """Return the text with its include lines blanked out, and what they include.

    A line that begins like an include and is none gives one message.
    """
    if not source.text.startswith("include") and "\ninclude" not in source.text:
        return source, ()
    found: list[Include] = []
    for line in _LINE.finditer(source.text):
        span = Span(source.name, line.start(), line.start() + len(line.group().rstrip()))
        file, library = _FILE.fullmatch(line[1]), _LIBRARY.fullmatch(line[1])
        if file or library:
            match = file or library
            found.append(Include(match[1] if match else "", library is not None, span))
        else:
            problems.error(
                "PG1013",
                "this line does not say what to include",
                span,
                expected='`include "file.plan"`, or `include library parts`',
            )
    text = _LINE.sub(lambda line: " " * len(line.group()), source.text)
    return SourceFile(source.name, text, source.line_starts), tuple(found)
