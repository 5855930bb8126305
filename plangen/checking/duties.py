"""What a pack asks of people by the calendar or in words: notices, tests, reports, statements, forms, fees.

Typed values for the packet to print; no rule judges them. What no pack in force says is not known, and
`NOT_KNOWN` is what then stands in its place: no default is made up.
"""

from __future__ import annotations

from dataclasses import dataclass

from plangen.checking.finding import RuleSource
from plangen.text.source import Span

NOT_KNOWN = "not known: ask the authority"
# What a duty is about, and how its periods are told. The keys are what `packs.duties_of` takes.
KINDS = {
    "notice": "notice before digging",
    "ticket": "how long a locate ticket holds",
    "test": "test of the backflow assembly",
    "report": "report of a test",
    "compliance": "statement of compliance",
    "fee": "fee of the authority",
    "form": "form of the authority",
}
# Said in words alone, without a period.
IN_WORDS = ("compliance", "fee", "form")


@dataclass(frozen=True, slots=True)
class Period:
    """A stretch of the calendar as the law counts it: `unit` is hours, days, working days or months.

    Hours and days run on; which days are left out of `working days` is the law's own affair, so no date is
    worked out from them.
    """

    count: int
    unit: str

    @property
    def words(self) -> str:
        """Return the period as read: `48 hours`, `1 month`."""
        return f"{self.count} {self.unit if self.count != 1 else self.unit.removesuffix('s')}"

    @property
    def months(self) -> int | None:
        """Return the period in months, or None where it is counted otherwise."""
        return self.count if self.unit == "months" else None


@dataclass(frozen=True, slots=True)
class Duty:
    """One duty of a pack in force.

    `kind` is a key of `KINDS`. A notice is given `at_least` before work and `at_most` so long before it; a
    ticket lasts, a test is repeated and a report is due within `at_most`; a statement has no period. `words`
    says when the duty applies and how days are counted, or what is stated, paid or filled in, in paraphrase.
    """

    kind: str
    pack: str
    span: Span
    at_least: Period | None
    at_most: Period | None
    words: str
    source: RuleSource
    because: str = ""
    instead_of: str = ""  # the pack whose duties of this kind it replaced

    @property
    def told(self) -> str:
        """Return the duty in one line without its source."""
        if self.kind in IN_WORDS:
            return self.words
        least = f"at least {self.at_least.words}" if self.at_least else ""
        most = f"at most {self.at_most.words}" if self.at_most else ""
        lead = {"ticket": "lasts", "test": "every", "report": "within"}.get(self.kind)
        if lead is not None and self.at_most is not None:
            least, most = f"{lead} {self.at_most.words}", ""
        return f"{', '.join(x for x in (least, most) if x)}; {self.words}"
