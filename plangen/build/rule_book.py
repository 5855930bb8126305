"""Every pack at hand, read and checked without a design: what `explain` and `packs` tell of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from plangen.build.pack_cache import cached_packs
from plangen.build.pack_texts import pack_name, read_packs
from plangen.checking.packs import CheckedPack, Rule
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.text.source import SourceSet


@dataclass(frozen=True, slots=True)
class RuleBook:
    """All packs that could be read, and the problems of those that could not."""

    packs: tuple[CheckedPack, ...]
    problems: tuple[Diagnostic, ...]
    sources: SourceSet

    def pack(self, name: str) -> CheckedPack | None:
        """Return the pack of that name, or None."""
        return next((p for p in self.packs if p.name == name), None)

    def rules(self, name: str) -> tuple[tuple[CheckedPack, Rule], ...]:
        """Return every pack's rule of that name, each wording once."""
        found: dict[tuple[str, str], tuple[CheckedPack, Rule]] = {}
        for pack in self.packs:
            for rule in pack.rules:
                if rule.name == name:
                    found.setdefault((rule.pack, rule.name), (pack, rule))
        return tuple(found.values())

    def rule_names(self) -> tuple[str, ...]:
        """Return the names of all rules of all packs, sorted."""
        return tuple(sorted({r.name for p in self.packs for r in p.rules}))


def read_rule_book(folders: Iterable[Path] = ()) -> RuleBook:
    """Return all packs, shipped and named, in the order of names."""
    read = read_packs(folders)
    inputs = read.value or ()
    texts = {pack_name(i): i.source for i in inputs}
    packs: list[CheckedPack] = []
    problems = list(read.problems)
    for name in sorted(texts):
        loaded = cached_packs((name,), texts, VOCABULARY, VERSION)
        problems += [p for p in loaded.problems if p not in problems]
        packs += loaded.value or ()
    return RuleBook(tuple(packs), tuple(problems), SourceSet(tuple(i.source for i in inputs)))
