"""The house rules that a machine can hold: short files and functions, docstrings, names, and clean texts."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "plangen"
MODULES = sorted(PACKAGE.rglob("*.py"))
LONGEST_FILE, LONGEST_FUNCTION = 300, 50
BANNED_NAMES = {
    "util", "utils", "helper", "helpers", "common", "core", "misc", "manager", "engine", "handler", "base",
    "stuff", "tools", "lib",
}  # fmt: skip
# Split so that this file does not hold what it looks for.
UNFINISHED = ("TO" + "DO", "FIX" + "ME", "XX" + "X", "not imple" + "mented", "NotImple" + "mented")
PLACES = tuple("/" + name + "/" for name in ("work", "tmp", "root", "home"))
HOSTS = ("pypi" + ".org", "files.python" + "hosted", "registry.npm" + "js", "crates" + ".io")
TEXT_SUFFIXES = {
    ".cfg", ".cases", ".css", ".csv", ".html", ".j2", ".js", ".json", ".lark", ".md", ".plan", ".py",
    ".rules", ".sh", ".svg", ".toml", ".txt", ".yaml", ".yml", "",
}  # fmt: skip


def tracked_files() -> list[Path]:
    """Return the files git knows, or every file outside dot folders where this is not a checkout."""
    try:
        out = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True, text=True, encoding="utf-8"
        ).stdout  # fmt: skip
        found = [ROOT / name for name in out.split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        found = [
            p for p in ROOT.rglob("*") if not any(part.startswith(".") for part in p.relative_to(ROOT).parts)
        ]
    return sorted(p for p in found if p.is_file())


def texts() -> Iterator[tuple[Path, str]]:
    """Return each tracked text file with its text."""
    for path in tracked_files():
        if path.suffix in TEXT_SUFFIXES:
            yield path.relative_to(ROOT), path.read_text(encoding="utf-8")


def places(path: Path, text: str, words: tuple[str, ...]) -> list[str]:
    """Return `file:line: word` for each line that holds one of the words."""
    return [
        f"{path.as_posix()}:{number}: {word}"
        for number, line in enumerate(text.splitlines(), 1)
        for word in words
        if word in line
    ]


def long_functions(tree: ast.Module) -> list[str]:
    """Return the functions over the limit, their docstring not counted, with their lengths."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            first = node.body[0]
            is_doc = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
            doc = (first.end_lineno or first.lineno) - first.lineno + 1 if is_doc else 0
            length = (node.end_lineno or node.lineno) - node.lineno + 1 - doc
            if length > LONGEST_FUNCTION:
                found.append(f"{node.name} has {length} lines")
    return found


def undocumented(tree: ast.Module) -> list[str]:
    """Return the public classes, functions and methods of a module that have no docstring."""
    found = [] if ast.get_docstring(tree) or not tree.body else ["the module"]
    owners: list[tuple[str, list[ast.stmt]]] = [("", tree.body)]
    while owners:
        prefix, body = owners.pop()
        for node in body:
            if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
                continue
            if node.name.startswith("_"):
                continue
            if not ast.get_docstring(node):
                found.append(prefix + node.name)
            if isinstance(node, ast.ClassDef):
                owners.append((f"{prefix}{node.name}.", node.body))
    return sorted(found)


def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("path", MODULES, ids=lambda p: p.relative_to(PACKAGE).as_posix())
def test_module_is_short_documented_and_well_named(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    tree = ast.parse(text)
    lines = len(text.splitlines())
    assert lines <= LONGEST_FILE
    assert long_functions(tree) == []
    assert undocumented(tree) == []
    assert not BANNED_NAMES & set(path.relative_to(PACKAGE).with_suffix("").parts)


def test_nothing_is_left_unfinished() -> None:
    wrong = [found for path, text in texts() for found in places(path, text, UNFINISHED)]
    assert wrong == []


def test_no_machine_paths_or_registry_hosts() -> None:
    """A path of one machine in a file means it was not made for any other."""
    wrong = [found for path, text in texts() for found in places(path, text, (*PLACES, *HOSTS))]
    assert wrong == []


def test_texts_are_utf8_with_plain_line_ends() -> None:
    for path in tracked_files():
        # licence texts stay as they were received
        if path.suffix in TEXT_SUFFIXES and path.parent.name != "fonts":
            raw = path.read_bytes()
            assert b"\r" not in raw, path
            assert raw == b"" or raw.endswith(b"\n"), f"{path} does not end with a line end"


def test_no_module_catches_everything_or_keeps_a_keyword_bag() -> None:
    """A bare `except`, or `**kwargs` kept as attributes, hides what can happen."""
    wrong = []
    for path in MODULES:
        for node in ast.walk(parsed(path)):
            if isinstance(node, ast.ExceptHandler) and node.type is None:
                wrong.append(f"{path.name}:{node.lineno}: bare except")
    assert wrong == []


def test_module_constants_are_not_lists() -> None:
    """A list at module level can grow from call to call; a tuple cannot."""
    wrong = [
        f"{path.relative_to(ROOT).as_posix()}:{node.lineno}"
        for path in MODULES
        for node in parsed(path).body
        if isinstance(node, ast.Assign | ast.AnnAssign)
        and isinstance(node.value, ast.List | ast.ListComp)
        and not any(isinstance(t, ast.Name) and t.id == "__all__" for t in getattr(node, "targets", []))
    ]
    assert wrong == []


def test_dataclasses_are_frozen_or_say_that_they_are_workings() -> None:
    """Values between stages are frozen and slotted; a mutable dataclass needs slots at least."""
    wrong = []
    for path in MODULES:
        for node in ast.walk(parsed(path)):
            if isinstance(node, ast.ClassDef):
                for mark in node.decorator_list:
                    called = mark.func if isinstance(mark, ast.Call) else mark
                    if isinstance(called, ast.Name) and called.id == "dataclass":
                        words = {k.arg for k in mark.keywords} if isinstance(mark, ast.Call) else set()
                        if "slots" not in words:
                            wrong.append(f"{path.relative_to(ROOT).as_posix()}: {node.name}")
    assert wrong == []


def test_the_checks_themselves_find_what_they_look_for() -> None:
    body = "\n".join(f"    x = {i}" for i in range(60))
    assert long_functions(ast.parse(f"def f():\n{body}\n")) == ["f has 61 lines"]
    assert undocumented(ast.parse("X = 1\nclass A:\n    def b(self): ...\n    def _c(self): ...\n")) == [
        "A", "A.b", "the module",
    ]  # fmt: skip
    assert places(Path("a"), "one\nsee " + PLACES[0] + "x\n", PLACES) == ["a:2: " + PLACES[0]]
