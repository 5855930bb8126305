"""The layers hold: a package imports only packages below it, and no modules import each other in a ring.

The two checks are functions over a folder, so that they can be shown to fail on made-up packages.
"""

from __future__ import annotations

import ast
import graphlib
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent / "plangen"
# Lowest first. `shipped` and `text` know nothing of each other nor of anything else.
LAYERS = (
    ("shipped", "text"), ("quantity",), ("geometry",), ("diagnostics",), ("parsing",), ("syntax",),
    ("model",),
    ("terrain",), ("hydraulics",), ("layout",), ("sheets",), ("facts",), ("checking",), ("annotation",),
    ("render",), ("packet",), ("advice",), ("build",), ("cli",),
)  # fmt: skip
LEVEL = {name: level for level, group in enumerate(LAYERS) for name in group}
# Packages that see less than their place would allow: what they may import, as module prefixes.
NARROW = {
    "render": ("plangen.sheets.marks", "plangen.sheets.pens", "plangen.sheets.font", "plangen.render"),
    "checking": ("plangen.facts", "plangen.model.design", "plangen.checking"),
}


def modules(root: Path) -> dict[str, Path]:
    """Return every module of a package folder by its dotted name."""
    found = {}
    for path in sorted(root.rglob("*.py")):
        parts = path.relative_to(root.parent).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = path
    return found


def imports(path: Path, known: set[str], package: str) -> set[str]:
    """Return the modules of the package that a file imports, wherever in the file the import stands."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}:{node.lineno}: write absolute imports"
            module = node.module or ""
            full = {f"{module}.{alias.name}" for alias in node.names}
            found |= {name if name in known else module for name in full}
    return {name for name in found if name.split(".")[0] == package}


def import_graph(root: Path) -> dict[str, set[str]]:
    """Return for each module of a package the modules it imports, itself left out."""
    found = modules(root)
    return {name: imports(path, set(found), root.name) - {name} for name, path in found.items()}


def package_of(module: str) -> str:
    """Return the package a module is in: its second name, or '' for the top itself."""
    parts = module.split(".")
    return parts[1] if len(parts) > 1 else ""


def upward_imports(graph: dict[str, set[str]], level: dict[str, int]) -> list[str]:
    """Return each import that does not point to a lower layer, as `a -> b`."""
    wrong = []
    for name, targets in sorted(graph.items()):
        here = package_of(name)
        for target in sorted(targets):
            there = package_of(target)
            if here not in level or there in ("", here):
                continue
            if there not in level or level[there] >= level[here]:
                wrong.append(f"{name} -> {target}")
    return wrong


def ring(graph: dict[str, set[str]]) -> list[str]:
    """Return the modules of one import cycle, or nothing."""
    try:
        list(graphlib.TopologicalSorter(graph).static_order())
    except graphlib.CycleError as error:
        return list(error.args[1])
    return []


def test_every_package_has_a_layer() -> None:
    packages = {p.name for p in PACKAGE.iterdir() if (p / "__init__.py").is_file()}
    assert packages == set(LEVEL)


def test_imports_point_downwards() -> None:
    assert upward_imports(import_graph(PACKAGE), LEVEL) == []


def test_modules_form_no_ring() -> None:
    assert ring(import_graph(PACKAGE)) == []


@pytest.mark.parametrize("package", sorted(NARROW))
def test_narrow_packages_see_only_what_they_may(package: str) -> None:
    """Render sees marks and nothing of designs; rules see facts, waivers and confirmations."""
    low = {name for name, level in LEVEL.items() if level < LEVEL["model"]}
    allowed = NARROW[package]
    wrong = [
        f"{name} -> {target}"
        for name, targets in sorted(import_graph(PACKAGE).items())
        if package_of(name) == package
        for target in sorted(targets)
        if package_of(target) not in {*low, ""} and not target.startswith(allowed)
    ]
    assert wrong == []


def test_heavy_libraries_are_not_imported_with_a_module() -> None:
    """Drawing and PDF libraries load only when something is drawn: no imports at module level."""
    heavy = {"cairosvg", "pikepdf", "svgwrite", "jinja2", "markdown", "lark"}
    lazy = ("cli", "model", "quantity", "geometry", "layout", "hydraulics", "facts", "terrain", "text")
    wrong = []
    for name, path in modules(PACKAGE).items():
        if package_of(name) in lazy:
            for node in ast.parse(path.read_text(encoding="utf-8")).body:
                names = (
                    [a.name for a in node.names]
                    if isinstance(node, ast.Import)
                    else [node.module or ""]
                    if isinstance(node, ast.ImportFrom)
                    else []
                )
                wrong += [f"{name} -> {n}" for n in names if n.split(".")[0] in heavy]
    assert wrong == []


def made_package(folder: Path, files: dict[str, str]) -> Path:
    root = folder / "demo"
    for name, text in files.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        (path.parent / "__init__.py").touch()
    (root / "__init__.py").touch()
    return root


def test_the_check_fails_on_an_upward_import(tmp_path: Path) -> None:
    clean = {"low/a.py": "X = 1\n", "high/b.py": "from demo.low.a import X\n"}
    level = {"low": 0, "high": 1}
    root = made_package(tmp_path / "clean", clean)
    assert upward_imports(import_graph(root), level) == [] and ring(import_graph(root)) == []
    hidden = {**clean, "low/c.py": "def f():\n    from demo.high import b\n    return b\n"}
    broken = made_package(tmp_path / "broken", hidden)
    assert upward_imports(import_graph(broken), level) == ["demo.low.c -> demo.high.b"]


def test_the_check_fails_on_a_sideways_import(tmp_path: Path) -> None:
    root = made_package(tmp_path, {"one/a.py": "", "two/b.py": "import demo.one.a\n"})
    assert upward_imports(import_graph(root), {"one": 0, "two": 0}) == ["demo.two.b -> demo.one.a"]


def test_the_check_fails_on_a_ring(tmp_path: Path) -> None:
    files = {
        "low/a.py": "from demo.low import b\n", "low/b.py": "import demo.low.c\n",
        "low/c.py": "from demo.low.a import X\n",
    }  # fmt: skip
    graph = import_graph(made_package(tmp_path, files))
    assert set(ring(graph)) >= {"demo.low.a", "demo.low.b", "demo.low.c"}


def test_the_check_refuses_relative_imports(tmp_path: Path) -> None:
    root = made_package(tmp_path, {"low/a.py": "from . import b\n", "low/b.py": ""})
    with pytest.raises(AssertionError, match="absolute imports"):
        import_graph(root)
