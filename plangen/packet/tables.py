"""The shapes that the page's templates know: cells, tables and facts. Plain data of words."""

from __future__ import annotations

from dataclasses import dataclass

NOT_STATED = "not stated"
NOT_KNOWN = "not known"
_SENTENCE = 30  # letters
_COLUMNS_OF_WORDS = 5


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: words, an anchor on this page they link to (or a `file` beside it), and whether a number."""

    text: str
    link: str = ""
    number: bool = False
    file: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a caption. The first column heads its row; `empty` is said where there are no rows."""

    id: str
    caption: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    empty: str = "None."
    note: str = ""

    @property
    def wordy(self) -> bool:
        """Return whether it is more words than figures: on a telephone such a table is read downwards."""
        return any(
            len(cell.text) > _SENTENCE or sum(not c.number for c in row[1:]) >= _COLUMNS_OF_WORDS
            for row in self.rows
            for cell in row[1:]
        )


@dataclass(frozen=True, slots=True)
class Fact:
    """A label with its value; an empty value is shown as `not stated`, never left out.

    `fill` marks what no design can say: a line for a person to write on.
    """

    label: str
    value: str
    source: str = ""
    fill: bool = False

    @property
    def stated(self) -> bool:
        """Return whether there is a value."""
        return bool(self.value)


@dataclass(frozen=True, slots=True)
class Form:
    """A paper of the job: what it is for, figures, tables, things to do or tick, and who signs."""

    id: str
    title: str
    intro: tuple[str, ...] = ()
    groups: tuple[tuple[str, tuple[Fact, ...]], ...] = ()
    tables: tuple[Table, ...] = ()
    steps: tuple[str, ...] = ()
    ticks: tuple[str, ...] = ()
    source: str = ""
    sign: tuple[str, ...] = ()
    large: bool = False  # one page to hang up: large letters


def blank(label: str) -> Fact:
    """Return a line that a person fills in."""
    return Fact(label, "", fill=True)


def cells(*texts: str) -> tuple[Cell, ...]:
    """Return a row of plain cells."""
    return tuple(Cell(text) for text in texts)


def figures(first: str, *texts: str, link: str = "") -> tuple[Cell, ...]:
    """Return a row whose first cell names it and whose others are numbers."""
    return (Cell(first, link), *(Cell(text, number=True) for text in texts))
