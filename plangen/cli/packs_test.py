"""`plangen packs test`: runs the cases of packs and says which fail and which rules lack a case."""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from plangen.build.apart import Lost, each_apart, processors
from plangen.build.case_runs import facts_of_case, lacking, needs_sheets, own_rules, results_of
from plangen.build.pack_cases import PackCases, read_cases
from plangen.build.pack_folders import CASES_FILE, pack_folders, read_base, read_case_file
from plangen.build.rule_book import read_rule_book
from plangen.checking.packs import CheckedPack
from plangen.cli.bar import Bar
from plangen.cli.colour import Paint
from plangen.cli.exits import Exit
from plangen.diagnostics.diagnostic import Diagnostic

# A case costs less than a second process where there are only a few.
WORTH_SHARING = 4


@dataclass(frozen=True, slots=True)
class Piece:
    """One case to run, by the names that any process finds it under."""

    rules: tuple[Path, ...]
    pack: str
    place: int


@dataclass(frozen=True, slots=True)
class Ran:
    """What one case came to: how many of its expectations hold, and what to say of the others."""

    held: int
    lines: tuple[str, ...]


def run_packs(packs: Sequence[CheckedPack], folders: Sequence[Path], paint: Paint) -> Exit:
    """Run the cases of each pack over all processors; status 1 if one fails or a rule lacks one."""
    _at_hand.cache_clear()
    rules, where = tuple(folders), pack_folders(folders)
    pieces = [
        Piece(rules, pack.name, place)
        for pack in packs
        if (found := cases_of(where[pack.name])) is not None and not isinstance(found, str)
        for place in range(len(found.cases.cases))
    ]
    bar = Bar(sys.stderr, "running cases", len(pieces))
    try:
        workers = processors() if len(pieces) >= WORTH_SHARING else 1
        results = each_apart(run_case, pieces, workers, bar.step)
    finally:
        bar.clear()
    ran: dict[str, list[Ran]] = {}
    for piece, result in zip(pieces, results, strict=True):
        lost = Ran(0, (f"{piece.pack}: the process of case {piece.place + 1} was ended",))
        ran.setdefault(piece.pack, []).append(lost if isinstance(result, Lost) else result)
    worst = Exit.FINE
    for pack in packs:
        lines, good = tested_lines(pack, where[pack.name], ran.get(pack.name, []))
        sys.stdout.write(paint("\n".join(lines[:1]), "bold") + "\n" + "".join(f"{x}\n" for x in lines[1:]))
        if not good:
            worst = Exit.FALLS_SHORT
    return worst


@dataclass(frozen=True, slots=True)
class CaseFile:
    """A pack's cases as read, the name of their file and the text of the design they change."""

    name: str
    cases: PackCases
    base: str


def cases_of(folder: Path) -> CaseFile | str | None:
    """Return a pack's cases, or why they cannot be run; None where it has none."""
    read = read_case_file(folder)
    if read is None:
        return None
    if isinstance(read, Diagnostic):
        return read.message
    cases = read_cases(read.source.text)
    base = read_base(folder, cases.base)
    return base.message if isinstance(base, Diagnostic) else CaseFile(read.name, cases, base.source.text)


@cache
def _at_hand(rules: tuple[Path, ...], name: str) -> tuple[CheckedPack, CaseFile]:
    """Return a pack and its cases; read once in each process."""
    pack, found = read_rule_book(rules).pack(name), cases_of(pack_folders(rules)[name])
    assert pack is not None and isinstance(found, CaseFile)
    return pack, found


def run_case(piece: Piece) -> Ran:
    """Run one case of a pack."""
    pack, file = _at_hand(piece.rules, piece.pack)
    case = file.cases.cases[piece.place]
    facts = facts_of_case(case, file.base, needs_sheets(pack, case))
    lines = [f"{file.name}:{f.line}: {f.words}" for f in facts.faults]
    held = 0
    for result in results_of(pack, facts):
        wanted = result.expected
        held += not result.found
        if result.found:
            lines.append(
                f'{file.name}:{wanted.line}: in the case "{case.title}" {wanted.rule} should say'
                f" `{wanted.status.words}`; found: {result.found}"
            )
    return Ran(held, tuple(lines))


def tested_lines(pack: CheckedPack, folder: Path, ran: Sequence[Ran]) -> tuple[list[str], bool]:
    """Return what the test of one pack says, and whether all is well."""
    file = cases_of(folder)
    if file is None:
        words = f"{pack.name}: no {CASES_FILE}, so none of its {len(own_rules(pack))} own rules has a case"
        return [words], False
    if isinstance(file, str):
        return [f"{pack.name}: {file}"], False
    cases = file.cases
    lines = [f"{file.name}:{f.line}: {f.words}" for f in cases.faults]
    lines += [line for one in ran for line in one.lines]
    lines += [f"{file.name}: no case where {rule} {status.words}" for rule, status in lacking(pack, cases)]
    lines += _idle(pack, cases, file.name)
    asked = sum(len(c.expected) for c in cases.cases)
    verdict = "every rule has its cases" if not lines else f"{len(lines)} faults"
    head = (
        f"{pack.name}: {len(own_rules(pack))} own rules, {len(cases.cases)} cases,"
        f" {sum(one.held for one in ran)} of {asked} expectations hold; {verdict}"
    )
    return [head, *lines], not lines


def _idle(pack: CheckedPack, cases: PackCases, name: str) -> list[str]:
    """Return the excuses that excuse nothing: for a rule that is not there, or that has such a case."""
    rules = {r.name for r in pack.rules}
    seen = {(e.rule, e.status) for c in cases.cases for e in c.expected}
    lines = []
    for excuse in cases.excuses:
        if excuse.rule not in rules:
            lines.append(f"{name}:{excuse.line}: the pack has no rule {excuse.rule}")
        elif (excuse.rule, excuse.status) in seen:
            lines.append(f"{name}:{excuse.line}: there is a case where {excuse.rule} {excuse.status.words}")
    return lines
