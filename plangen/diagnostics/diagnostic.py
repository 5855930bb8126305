"""What is wrong with the input, as data. Rendering is elsewhere; wording stands where the fault is found."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import Generic, TypeVar

from plangen.text.source import Span

T = TypeVar("T")


class Severity(StrEnum):
    """How much a message weighs: an error stops the run before findings; a warning does not."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Label:
    """A second place that explains the first, such as `first defined here`."""

    span: Span
    text: str


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """One fault of the input.

    `code` is an entry of the catalogue (`PG1001`), `message` one line in lower case without a period,
    `help` what to do, `expected` what would have been legal.
    """

    code: str
    message: str
    span: Span
    severity: Severity = Severity.ERROR
    expected: str = ""
    help: str = ""
    labels: tuple[Label, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome(Generic[T]):
    """What a stage returns: a value, or None if nothing useful exists, and every problem it met."""

    value: T | None
    problems: tuple[Diagnostic, ...] = ()

    @property
    def failed(self) -> bool:
        """Return whether an error is among the problems."""
        return self.value is None or any(p.severity is Severity.ERROR for p in self.problems)


@dataclass(slots=True)
class Problems:
    """Collects diagnostics inside one stage."""

    items: list[Diagnostic] = field(default_factory=list)

    def error(
        self,
        code: str,
        message: str,
        span: Span,
        *,
        expected: str = "",
        help: str = "",
        labels: tuple[Label, ...] = (),
    ) -> None:
        """Add an error."""
        self.items.append(Diagnostic(code, message, span, Severity.ERROR, expected, help, labels))

    def warning(
        self, code: str, message: str, span: Span, *, help: str = "", labels: tuple[Label, ...] = ()
    ) -> None:
        """Add a warning."""
        self.items.append(Diagnostic(code, message, span, Severity.WARNING, "", help, labels))

    def done(self) -> tuple[Diagnostic, ...]:
        """Return what was collected, in the order of file, place and code, without repeats."""
        return tuple(
            sorted(dict.fromkeys(self.items), key=lambda d: (d.span.file, d.span.start, d.code, d.message))
        )
