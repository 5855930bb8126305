"""Reads a pack's cases: small changes to a base design, and what each rule then has to say.

In: the text of a `pack.cases`. Out: fragments, cases and excuses, and the faults of lines that mean nothing.
Blocks open and close at column 0, one line says one thing:

    base residential
    fragment rp "a reduced-pressure assembly for BF1" {
      - words of the base design that stand there once
      -- and those of the next line, where they are needed to tell the place
      + what stands there instead, line for line
    }
    case "lawn feed" {
      use rp
      - chemicals none
      + chemicals "weed-and-feed"
      > review {                                   a line put at the end of the design
      undraw symbol BF1                            taken off the drawn sheets
      expect assembly-for-chemicals for BF1 meets
    }
    no case plan-north not known because "sheets are always drawn when rules are checked"
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from plangen.checking.finding import Status

STATUSES = {status.words: status for status in Status} | {"is waived": Status.WAIVED}
_WORDS = "|".join(sorted((re.escape(w) for w in STATUSES), key=len, reverse=True))
_NAME = r"[a-z][a-z0-9-]*"
_OPEN = re.compile(rf'(?:fragment (?P<fragment>{_NAME}) |case )"(?P<title>[^"]+)" \{{')
_BASE = re.compile(rf"base (?P<base>{_NAME})")
_EXPECT = re.compile(rf"expect (?P<rule>{_NAME})(?: for (?P<subject>[^:]+?))? (?P<status>{_WORDS})")
_EXCUSE = re.compile(rf'no case (?P<rule>{_NAME}) (?P<status>{_WORDS}) because "(?P<reason>[^"]+)"')
_UNDRAW = re.compile(r"undraw (?P<what>[a-z-]+)(?: (?P<object>\S+))?")


@dataclass(frozen=True, slots=True)
class Expectation:
    """What a rule has to say; `subject` is empty for any object."""

    rule: str
    subject: str
    status: Status
    line: int


@dataclass(frozen=True, slots=True)
class Edit:
    """Words of a design and what stands in their place."""

    old: str
    new: str
    line: int


@dataclass(frozen=True, slots=True)
class Case:
    """One changed design with its expectations. `undrawn` are (what, object) taken off the sheets."""

    title: str
    line: int
    edits: tuple[Edit, ...]
    added: str
    undrawn: tuple[tuple[str, str], ...]
    expected: tuple[Expectation, ...]


@dataclass(frozen=True, slots=True)
class Excuse:
    """Why a rule has no case of a status."""

    rule: str
    status: Status
    reason: str
    line: int


@dataclass(frozen=True, slots=True)
class CaseFault:
    """A line of the text that means nothing, or a change that does not fit."""

    line: int
    words: str


@dataclass(frozen=True, slots=True)
class PackCases:
    """All cases of one pack."""

    base: str
    cases: tuple[Case, ...]
    excuses: tuple[Excuse, ...]
    faults: tuple[CaseFault, ...]


@dataclass(slots=True)
class _Block:
    fragment: str
    title: str
    line: int
    edits: list[Edit] = field(default_factory=list)
    added: list[str] = field(default_factory=list)
    undrawn: list[tuple[str, str]] = field(default_factory=list)
    expected: list[Expectation] = field(default_factory=list)


def read_cases(text: str) -> PackCases:
    """Return the cases of a text; lines that mean nothing are faults, the rest is kept."""
    return _Reader().read(text)


class _Reader:
    """Reads line by line; a fault never hides the next line."""

    def __init__(self) -> None:
        self.base = "residential"
        self.fragments: dict[str, _Block] = {}
        self.cases: list[Case] = []
        self.excuses: list[Excuse] = []
        self.faults: list[CaseFault] = []
        self.block: _Block | None = None

    def read(self, text: str) -> PackCases:
        """Return everything the text holds."""
        for number, raw in enumerate(text.split("\n"), 1):
            line = raw.strip()
            if not line or line.startswith("#"):
                continue
            if self.block is None:
                self._outside(number, line)
            elif raw.startswith("}"):
                self._close()
            else:
                self._inside(number, line, self.block)
        if self.block is not None:
            self._fault(self.block.line, "this block is not closed by a `}`")
        return PackCases(self.base, tuple(self.cases), tuple(self.excuses), tuple(self.faults))

    def _fault(self, line: int, words: str) -> None:
        self.faults.append(CaseFault(line, words))

    def _outside(self, number: int, line: str) -> None:
        if match := _BASE.fullmatch(line):
            self.base = match["base"]
        elif match := _OPEN.fullmatch(line):
            self.block = _Block(match["fragment"] or "", match["title"], number)
        elif match := _EXCUSE.fullmatch(line):
            status = STATUSES[match["status"]]
            self.excuses.append(Excuse(match["rule"], status, match["reason"], number))
        else:
            self._fault(number, "neither `base`, `fragment`, `case` nor `no case … because`")

    def _inside(self, number: int, line: str, block: _Block) -> None:
        sign, _, rest = line.partition(" ")
        if sign == "-" and rest:
            block.edits.append(Edit(rest.strip(), "", number))
        elif sign == "--" and block.edits:
            last = block.edits[-1]
            block.edits[-1] = Edit(f"{last.old}\n{rest.strip()}", last.new, last.line)
        elif sign == "+" and block.edits:
            last = block.edits[-1]
            joined = f"{last.new}\n{rest.strip()}" if last.new else rest.strip()
            block.edits[-1] = Edit(last.old, joined, last.line)
        elif sign == ">":
            block.added.append(rest)
        elif sign == "use" and rest in self.fragments:
            used = self.fragments[rest]
            block.edits += used.edits
            block.added += used.added
            block.undrawn += used.undrawn
        elif match := _EXPECT.fullmatch(line):
            wanted = STATUSES[match["status"]]
            block.expected.append(Expectation(match["rule"], match["subject"] or "", wanted, number))
        elif match := _UNDRAW.fullmatch(line):
            block.undrawn.append((match["what"], match["object"] or ""))
        else:
            known = ", ".join(self.fragments) or "none"
            self._fault(
                number, f"neither `-`, `--`, `+`, `>`, `use`, `undraw` nor `expect` (fragments here: {known})"
            )

    def _close(self) -> None:
        block, self.block = self.block, None
        if block is None:
            return
        if block.fragment:
            self.fragments[block.fragment] = block
            return
        if not block.expected:
            self._fault(block.line, f'the case "{block.title}" expects nothing')
        self.cases.append(
            Case(
                block.title,
                block.line,
                tuple(block.edits),
                "\n".join(block.added),
                tuple(block.undrawn),
                tuple(block.expected),
            )
        )
