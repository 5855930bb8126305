"""The result of `check` as JUnit XML, the form that build servers read. One suite for each design. Pure.

A required rule that falls short is a failure, one that is not known an error. Only `meets` is a pass: what
needs a person, is waived, is advised or does not apply is skipped, with the reason.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree import ElementTree as Xml

from plangen.build.pipeline import Run
from plangen.checking.finding import Finding, Status
from plangen.cli.findings_text import CAUTION, figures_text, reasons
from plangen.text.source import SourceSet

# Characters that XML 1.0 cannot hold.
_UNPRINTABLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff]")


def junit_text(suites: Iterable[Xml.Element]) -> str:
    """Return the JUnit document of some suites, each as `junit_suite` makes it."""
    top = Xml.Element("testsuites", {"name": "plangen check"})
    top.extend(suites)
    Xml.indent(top, " ")
    return '<?xml version="1.0" encoding="UTF-8"?>\n' + Xml.tostring(top, encoding="unicode") + "\n"


def junit_suite(prefix: str, run: Run) -> Xml.Element:
    """Return one design's suite; `prefix` is the folder that stands before its file names."""
    suite = Xml.Element("testsuite", {"name": _clean(f"{prefix}{run.name}")})
    Xml.SubElement(Xml.SubElement(suite, "properties"), "property", {"name": "caution", "value": CAUTION})
    if run.checked is None:
        case = Xml.SubElement(suite, "testcase", {"classname": "input", "name": _clean(run.name)})
        for problem in run.problems:
            words = {"type": problem.code, "message": _clean(problem.message)}
            Xml.SubElement(case, "error", words)
    for finding in run.checked.findings if run.checked else ():
        suite.append(_case(finding, run.sources, prefix))
    cases = suite.findall("testcase")
    for name in ("failure", "error", "skipped"):
        count = sum(case.find(name) is not None for case in cases)
        suite.set({"failure": "failures", "error": "errors"}.get(name, name), str(count))
    suite.set("tests", str(len(cases)))
    return suite


def _case(finding: Finding, sources: SourceSet, prefix: str) -> Xml.Element:
    place = sources.place(finding.at)
    case = Xml.Element(
        "testcase",
        {
            "classname": _clean(f"{finding.pack}.{finding.rule}"),
            "name": _clean(finding.id),
            "file": _clean(f"{prefix}{place.file}"),
            "line": str(place.line),
        },
    )
    told = "\n".join(x for x in (finding.message, figures_text(finding), *reasons(finding)) if x)
    required = finding.severity == "required"
    if finding.status is Status.MEETS:
        return case
    if required and finding.status is Status.FALLS_SHORT:
        outcome = "failure"
    elif required and finding.status is Status.NOT_KNOWN:
        outcome = "error"
    else:
        outcome = "skipped"
    weight = "" if required else ", advisory"
    message = f"{finding.status.words}{weight}: {finding.title}"
    mark = Xml.SubElement(case, outcome, {"message": _clean(message)})
    if outcome != "skipped":
        mark.set("type", finding.status.value)
    mark.text = _clean(told)
    return case


def _clean(text: str) -> str:
    return _UNPRINTABLE.sub("?", text)
