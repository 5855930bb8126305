"""The starter design that ships with plangen, and what its reader must still measure, ask for or fill in."""

from __future__ import annotations

import re
from dataclasses import dataclass

from plangen.shipped.folders import shipped_text

_TASK = re.compile(r"^\s*# To ([a-z ]+): (.*)$")


@dataclass(frozen=True, slots=True)
class Task:
    """One thing left to the author: its line, the verb (`measure`, `ask for`, …) and what it is."""

    line: int
    verb: str
    what: str


def starter_text() -> str:
    """Return the text of the starter design."""
    return shipped_text("site", "starter", "design.plan")


def tasks(text: str) -> tuple[Task, ...]:
    """Return the tasks that the comments of a design name, `# To measure: …`, in the order of lines."""
    found = ((number, _TASK.match(line)) for number, line in enumerate(text.split("\n"), 1))
    return tuple(Task(number, match[1], match[2]) for number, match in found if match)
