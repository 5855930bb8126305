"""`plangen packs test`: runs the cases of packs and says which fail and which rules lack a case."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path

from plangen.build.case_runs import facts_of_case, lacking, needs_sheets, own_rules, results_of
from plangen.build.pack_cases import PackCases, read_cases
from plangen.build.pack_folders import CASES_FILE, pack_folders, read_base, read_case_file
from plangen.checking.packs import CheckedPack
from plangen.cli.colour import Paint
from plangen.cli.exits import Exit
from plangen.diagnostics.diagnostic import Diagnostic


def run_packs(packs: Iterable[CheckedPack], folders: Iterable[Path], paint: Paint) -> Exit:
    """Run the cases of each pack; status 1 if one fails or a rule lacks one."""
    where = pack_folders(folders)
    worst = Exit.FINE
    for pack in packs:
        lines, good = tested_lines(pack, where[pack.name])
        sys.stdout.write(paint("\n".join(lines[:1]), "bold") + "\n" + "".join(f"{x}\n" for x in lines[1:]))
        if not good:
            worst = Exit.FALLS_SHORT
    return worst


def tested_lines(pack: CheckedPack, folder: Path) -> tuple[list[str], bool]:
    """Return what the test of one pack says, and whether all is well."""
    read = read_case_file(folder)
    if read is None:
        words = f"{pack.name}: no {CASES_FILE}, so none of its {len(own_rules(pack))} own rules has a case"
        return [words], False
    if isinstance(read, Diagnostic):
        return [f"{pack.name}: {read.message}"], False
    cases = read_cases(read.source.text)
    base = read_base(folder, cases.base)
    if isinstance(base, Diagnostic):
        return [f"{pack.name}: {base.message}"], False
    lines = [f"{read.name}:{f.line}: {f.words}" for f in cases.faults]
    held = 0
    for case in cases.cases:
        facts = facts_of_case(case, base.source.text, needs_sheets(pack, case))
        lines += [f"{read.name}:{f.line}: {f.words}" for f in facts.faults]
        for result in results_of(pack, facts):
            wanted = result.expected
            held += not result.found
            if result.found:
                lines.append(
                    f'{read.name}:{wanted.line}: in the case "{case.title}" {wanted.rule} should say'
                    f" `{wanted.status.words}`; found: {result.found}"
                )
    lines += [f"{read.name}: no case where {rule} {status.words}" for rule, status in lacking(pack, cases)]
    lines += _idle(pack, cases, read.name)
    asked = sum(len(c.expected) for c in cases.cases)
    verdict = "every rule has its cases" if not lines else f"{len(lines)} faults"
    head = (
        f"{pack.name}: {len(own_rules(pack))} own rules, {len(cases.cases)} cases,"
        f" {held} of {asked} expectations hold; {verdict}"
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
