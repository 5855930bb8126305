"""Runs an example of a page of a code as its reader would, by the kind of its fence. Returns the codes told.

A fence of one of these kinds holds:

- `plan`: lines of a design, put into the small design beside this file; `plan-file`: a whole design.
- `plan-checked`: lines of a design, or a whole one, that goes through all stages.
- `plan-laid-out`: lines of one to lay out.
- `plan-files`: several files, each after a line `# in NAME`; the lines of `yard.plan` go before the small
  design's own.
- `rules`: lines of a pack that extends the pack beside this file, or a whole pack; `rules-file`: a text as it
  is; `rules-checked`: a pack by which the small design is checked.
- `command`: a command, run in a folder with the files of `_FOLDER`; `command-with-fault`: the same with a
  bug put into what the command does (`_FAULTS`).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from plangen.build.includes import read_included
from plangen.build.inputs import Input, read_input
from plangen.build.pack_texts import read_packs
from plangen.build.pipeline import Run, run_stages
from plangen.checking.check import check
from plangen.checking.load import load_packs
from plangen.cli.exits import Exit
from plangen.cli.main import main
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.model.formatted import format_text
from plangen.model.read import read_design
from plangen.text.source import SourceFile
from tests.diagnostics.code_page_texts import BASE, merged, whole_text

BASE_RULES = Path(__file__).with_name("base.rules").read_text(encoding="utf-8")
_FOLDER = {
    "design.plan": BASE.encode(),
    "yards/design.plan": BASE.encode(),
    "empty.plan": b" \n\n",
    "plan.pdf": b"%PDF-1.4\n",
    "utf-16.plan": BASE.encode("utf-16"),
}
_COMMANDS: dict[str, set[str]] = {}
_PACK = re.search(r"pack base \{.*?^\}\n", BASE_RULES, re.DOTALL | re.MULTILINE)


def codes_of(kind: str, body: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> set[str]:
    """Return the codes that an example is told; `folder` is an empty one of its own."""
    if kind == "command":
        if body not in _COMMANDS:  # that of the right file is on several pages
            _COMMANDS[body] = _command(body, folder, capsys)
        return _COMMANDS[body]
    if kind == "command-with-fault":
        place, fault, status = _FAULTS[body.split()[1]]
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(place, fault)
            return _command(body, folder, capsys, status)
    if kind == "plan-files":
        return _files(body, folder)
    return _TEXTS[kind](body)


def _read(body: str, kind: str = "plan") -> set[str]:
    outcome = read_design(SourceFile.of("d.plan", whole_text(kind, body)))
    assert outcome.failed or outcome.value is not None
    return {p.code for p in outcome.problems}


def _laid_out(body: str) -> set[str]:
    return {p.code for p in format_text(SourceFile.of("d.plan", merged(BASE, body))).problems}


@cache
def _run(text: str) -> Run:
    packs = read_packs().value
    assert packs is not None
    return run_stages(Input("d.plan", text.encode(), SourceFile.of("d.plan", text)), packs, lambda _: None)


def _checked(body: str) -> set[str]:
    return {p.code for p in _run(body if body.startswith("plangen") else merged(BASE, body)).problems}


def _rules(body: str) -> set[str]:
    assert _PACK is not None
    head = _PACK.group(0).replace("pack base {", "pack example extends base {")
    return _pack(body if body.startswith("pack ") else f"{head}\n{body}")


def _pack(text: str, checked: bool = False) -> set[str]:
    texts = {"base": BASE_RULES, "example": text + "\n"}
    sources = {name: SourceFile.of(f"rules/{name}/pack.rules", rules) for name, rules in texts.items()}
    loaded = load_packs(("example",), sources, VOCABULARY, VERSION)
    problems = list(loaded.problems)
    if checked:
        run = _run(BASE)
        assert loaded.value is not None and run.checked is not None
        problems += check(loaded.value, run.checked.facts, issued=run.checked.design.project.issued).problems
    return {p.code for p in problems}


def _files(body: str, folder: Path) -> set[str]:
    for name, text in re.findall(r"^# in (\S+)\n(.*?)(?=^# in |\Z)", body + "\n", re.DOTALL | re.MULTILINE):
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        whole = BASE.replace("plangen 1\n", f"plangen 1\n\n{text}", 1) if name == "yard.plan" else text
        path.write_text(whole, encoding="utf-8")
    root = read_input(folder / "yard.plan", "yard.plan")
    assert isinstance(root, Input)
    included, problems = read_included(folder / "yard.plan", root)
    read = read_design(root.source, tuple(i.source for i in included), all_there=not problems)
    return {p.code for p in (*problems, *read.problems)}


def _bug(*_: object) -> Run:
    raise RuntimeError("a bug put in by a test")


def _loses_a_word(tree: object, text: str, *_: object) -> str:
    return text.replace("material concrete, ", "", 1)


# Where a fault is put in for a command, the fault, and how the command ends then.
_FAULTS: dict[str, tuple[str, Callable[..., object], Exit]] = {
    "check": ("plangen.cli.check_one.run_job", _bug, Exit.FAULT),
    "format": ("plangen.model.formatted.formatted", _loses_a_word, Exit.UNUSABLE),
}


def _command(
    body: str, folder: Path, capsys: pytest.CaptureFixture[str], ends: Exit | None = None
) -> set[str]:
    for name, raw in _FOLDER.items():
        (folder / name).parent.mkdir(exist_ok=True)
        (folder / name).write_bytes(raw)
    program, *words = body.split()
    assert program == "plangen"
    status = main([str(folder / word) if "." in word or word == "yards" else word for word in words])
    told = capsys.readouterr()
    assert ends is None or status == ends
    assert ("fault of plangen" in told.err) is (status == Exit.FAULT) is (ends is Exit.FAULT)
    return set(re.findall(r"(?:^|: )(?:error|warning) (PG\d{4}) ", told.err, re.MULTILINE))


_TEXTS: dict[str, Callable[[str], set[str]]] = {
    "plan": _read,
    "plan-file": lambda body: _read(body, "plan-file"),
    "plan-checked": _checked,
    "plan-laid-out": _laid_out,
    "rules": _rules,
    "rules-file": _pack,
    "rules-checked": lambda body: _pack(body, checked=True),
}
