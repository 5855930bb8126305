"""The handbook's and the editors' files that are made from the tables of the program; a command writes them.

`python -m plangen.build.generated` writes them into the shipped `site` folder of a checkout; a test fails
when one of them is stale.
"""

from __future__ import annotations

import sys

from plangen.diagnostics.catalogue import catalogue
from plangen.facts.reference import facts_reference
from plangen.model.editor import pygments_lexer, textmate_grammar
from plangen.model.reference import language_reference, units_reference
from plangen.shipped.folders import shipped_folder

_STAGES = {
    "PG0": "Files and the tool itself",
    "PG1": "Syntax of a design",
    "PG2": "Names, words, units",
    "PG3": "Places and water paths",
    "PG5": "Rule packs",
}
_CODES_HEAD = """# Messages

Every message that plangen can give about a design or a rule pack has a code and a name and links to its page,
with a wrong and a right text; `plangen explain CODE` shows the same page in the terminal.
"""


def generated_pages() -> dict[str, str]:
    """Return the text of each generated file by its path inside the `site` folder."""
    return {
        "handbook/language-reference.md": language_reference(),
        "handbook/units.md": units_reference(),
        "handbook/facts.md": facts_reference(),
        "handbook/codes.md": codes_page(),
        "editor/plangen.tmLanguage.json": textmate_grammar(),
        "editor/plangen_lexer.py": pygments_lexer(),
    }


def codes_page() -> str:
    """Return the list of all codes by stage, each with its summary and a link to its page."""
    lines = [_CODES_HEAD.rstrip("\n")]
    stage = ""
    for code, entry in catalogue().items():
        if code[:3] != stage:
            stage = code[:3]
            lines.append(f"\n## {_STAGES.get(stage, 'Other')}\n")
        lines.append(f"- [{code} {entry.name}](../codes/{code}.md): {entry.summary}")
    return "\n".join(lines) + "\n"


def write_generated() -> list[str]:
    """Write every generated file that is missing or stale; return their paths inside `site`."""
    site = shipped_folder("site")
    written = []
    for name, text in generated_pages().items():
        path = site / name
        if not path.is_file() or path.read_text(encoding="utf-8") != text:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode("utf-8"))
            written.append(name)
    return written


if __name__ == "__main__":
    sys.stdout.write("".join(f"site/{name}\n" for name in write_generated()))
