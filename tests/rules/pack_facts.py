"""The cases of the shipped packs, each taken to its facts once for all tests."""

from __future__ import annotations

from functools import cache

from plangen.build.case_runs import CaseFacts, Result, facts_of_case, needs_sheets, results_of
from plangen.build.pack_cases import PackCases, read_cases
from plangen.build.pack_folders import pack_folders, read_base, read_case_file
from plangen.build.rule_book import RuleBook, read_rule_book
from plangen.checking.load import load_packs
from plangen.checking.packs import CheckedPack
from plangen.cli.explain_rule import limits_of
from plangen.diagnostics.diagnostic import Diagnostic
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.text.source import SourceFile

FOLDERS = pack_folders()
NAMES = tuple(FOLDERS)


@cache
def book() -> RuleBook:
    """Return all shipped packs."""
    return read_rule_book()


def pack(name: str) -> CheckedPack:
    """Return one shipped pack."""
    found = book().pack(name)
    assert found is not None
    return found


@cache
def cases(name: str) -> PackCases:
    """Return the cases of a pack."""
    read = read_case_file(FOLDERS[name])
    assert read is not None and not isinstance(read, Diagnostic)
    return read_cases(read.source.text)


@cache
def facts(name: str) -> tuple[CaseFacts, ...]:
    """Return the facts of each case of a pack."""
    found, of = cases(name), pack(name)
    base = read_base(FOLDERS[name], found.base)
    assert not isinstance(base, Diagnostic)
    return tuple(facts_of_case(c, base.source.text, needs_sheets(of, c)) for c in found.cases)


def results(under: CheckedPack, name: str, rules: frozenset[str] | None = None) -> tuple[Result, ...]:
    """Return how the cases of a pack fare under a pack, be it the same with a number changed.

    With `rules`, only the cases that expect something of one of them.
    """
    chosen = [f for f in facts(name) if rules is None or any(e.rule in rules for e in f.case.expected)]
    return tuple(r for f in chosen for r in results_of(under, f))


def rules_with(limit: str, name: str) -> frozenset[str]:
    """Return the rules of a pack that use a limit."""
    return frozenset(r.name for r in pack(name).rules if any(x.name == limit for x in limits_of(r)))


def texts() -> dict[str, SourceFile]:
    """Return the texts of all shipped packs by name."""
    return {
        name: SourceFile.of(f"rules/{name}/pack.rules", (folder / "pack.rules").read_text(encoding="utf-8"))
        for name, folder in FOLDERS.items()
    }


def with_text(name: str, text: str) -> CheckedPack:
    """Return a shipped pack as it would be with another text."""
    changed = texts() | {name: SourceFile.of(f"rules/{name}/pack.rules", text)}
    outcome = load_packs((name,), changed, VOCABULARY, VERSION)
    assert outcome.value is not None, outcome.problems
    return outcome.value[0]
