"""`plangen explain`: what a rule asks and why, what a message code means, or how a finding came about."""

from __future__ import annotations

import argparse
import sys

from plangen.build.rule_book import RuleBook, read_rule_book
from plangen.checking.finding import Finding
from plangen.checking.own_findings import OWN_FINDINGS, OwnFinding, own_finding
from plangen.cli.exits import Exit
from plangen.cli.explain_rule import paragraph, rule_text
from plangen.diagnostics.catalogue import Entry, catalogue, find
from plangen.shipped.folders import shipped_text
from plangen.text.source import SourceSet
from plangen.text.suggest import closest


def explain_command(arguments: argparse.Namespace) -> Exit:
    """Explain one name; an unknown one gets the nearest known one and status 2."""
    if arguments.design is not None:
        return _of_design(arguments)
    name: str = arguments.name
    entry = find(name)
    if entry is not None:
        sys.stdout.write(code_text(entry))
        return Exit.FINE
    own = own_finding(name)
    if own is not None:
        sys.stdout.write(own_text(own))
        return Exit.FINE
    book = read_rule_book(arguments.rules)
    # A finding's id begins with its rule's name: without the design, the rule is what can be told.
    found = book.rules(name) or next((book.rules(r) for r in _rules_in(name, book)), ())
    if found:
        texts = (rule_text(pack, rule, book, arguments.rules) for pack, rule in found)
        sys.stdout.write("\n".join(texts))
        return Exit.FINE
    codes = catalogue().values()
    known = [*book.rule_names(), *(e.code for e in codes), *(e.name for e in codes)]
    known += [own.name for own in OWN_FINDINGS]
    near = closest(name, known)
    hint = f"; a similar name exists: {near}" if near else "; `plangen packs show NAME` lists a pack's rules"
    sys.stderr.write(f"plangen: nothing is called `{name}`{hint}\n")
    return Exit.UNUSABLE


def _rules_in(finding_id: str, book: RuleBook) -> list[str]:
    starts = [
        r for r in book.rule_names() if finding_id.startswith(r) and not finding_id[len(r) :][:1].isalnum()
    ]
    return sorted((r for r in starts if finding_id[len(r) :][:1] != "-"), key=len, reverse=True)


def code_text(entry: Entry) -> str:
    """Return a message code's page of the handbook: its meaning, a wrong and a right text."""
    page = shipped_text("site", "codes", f"{entry.code}.md").strip()
    return page + "\n"


def own_text(own: OwnFinding) -> str:
    """Return what one of the checker's own findings means."""
    lines = [f"{own.name}: a finding of plangen itself, {own.severity}"]
    lines += paragraph("What it tells", own.meaning) + paragraph("To mend it", own.remedy)
    return "\n".join(lines) + "\n"


def _of_design(arguments: argparse.Namespace) -> Exit:
    from plangen.build.job import run_job
    from plangen.cli.check import say_problems

    run = run_job(arguments.design, arguments.rules, lambda words: None)
    if run.checked is None:
        say_problems(run, arguments.design)
        return Exit.UNUSABLE
    findings = run.checked.findings
    chosen = [f for f in findings if arguments.name in (f.id, str(f.number), f.rule)]
    if chosen:
        sys.stdout.write("\n".join(finding_text(f, run.sources) for f in chosen))
        return Exit.FINE
    near = closest(arguments.name, [f.id for f in findings])
    hint = f"; a similar id exists: {near}" if near else ""
    sys.stderr.write(f"plangen: this design has no finding `{arguments.name}`{hint}\n")
    return Exit.UNUSABLE


def finding_text(finding: Finding, sources: SourceSet) -> str:
    """Return one finding with everything it rests on."""
    from plangen.cli.findings_text import figures_text, reasons

    at, rule_at = sources.place(finding.at), sources.place(finding.rule_at)
    lines = [
        f"{finding.id}: {finding.status.words}",
        f"{finding.title} ({finding.subject}), {finding.severity}, pack {finding.pack}",
        f"said at {at.file}:{at.line}; rule at {rule_at.file}:{rule_at.line}",
    ]
    lines += [text for text in (finding.message, figures_text(finding), *reasons(finding)) if text]
    lines += paragraph("Why", finding.why)
    for head, texts in (
        ("Steps", finding.steps),
        ("Evidence", tuple(f"{e.name}: {e.value.words} ({e.provenance.told()})" for e in finding.evidence)),
        ("Other limits", tuple(f"{o.pack}: {o.words}" for o in finding.others)),
        ("Drawn on", tuple(f"sheet {sheet} {zone}".rstrip() for sheet, zone in finding.drawn_on)),
        ("Sources", tuple(f"{s.title}, {s.section}, {s.edition} ({s.verified})" for s in finding.sources)),
    ):
        if texts:
            lines += ["", head, *(f"  {text}" for text in texts)]
    return "\n".join(lines) + "\n"
