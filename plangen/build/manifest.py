"""`manifest.json`: the digest of everything that went in and came out, and the versions that made it.

Asks the installation for its library versions; else pure.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from importlib.metadata import PackageNotFoundError, version

from plangen import __version__
from plangen.annotation.clouds import Revised
from plangen.build.digest import sha256
from plangen.build.inputs import Input
from plangen.build.report_values import Facts
from plangen.build.write import MANIFEST_FORMAT, Product
from plangen.shipped.folders import shipped_folder

# Libraries whose version may show in the bytes of a product.
LIBRARIES = ("cairocffi", "cairosvg", "jinja2", "lark", "markdown", "pikepdf", "svgwrite")


def manifest_bytes(
    digest: str,
    inputs: Iterable[Input],
    packs: Iterable[Input],
    sheet_digests: Iterable[tuple[str, str]],
    products: Iterable[Product],
    revised: Revised | None = None,
) -> bytes:
    """Return the manifest as UTF-8 JSON text. It lists every product but itself, and what clouds ring."""
    facts: Facts = {
        "format": MANIFEST_FORMAT,
        "tool": {"name": "plangen", "version": __version__},
        "libraries": library_versions(),
        "tables": [{"path": name, "sha256": digest} for name, digest in table_digests()],
        "digest": digest,
        "inputs": [_file(i.name, i.raw) for i in inputs],
        "packs": [_file(p.name, p.raw) for p in packs],
        "sheets": [{"id": sheet, "sha256": value} for sheet, value in sheet_digests],
        "products": [_file(p.path, p.data) for p in sorted(products, key=lambda p: p.path)],
    }
    if revised is not None:
        facts["revised"] = {
            "label": revised.label,
            "objects": list(revised.objects),
            "since": revised.since,
        }
    return (json.dumps(facts, ensure_ascii=False, indent=1) + "\n").encode()


def library_versions() -> dict[str, str]:
    """Return the installed version of each library that has a part in the products, and of cairo itself."""
    found: dict[str, str] = {}
    for name in LIBRARIES:
        try:
            found[name] = version(name)
        except PackageNotFoundError:
            found[name] = "missing"
    return found


def table_digests() -> tuple[tuple[str, str], ...]:
    """Return the digest of each table of pipes and fittings that is part of plangen, in the order of names.

    They are no input of a design, yet its figures rest on them: another issue of plangen may have others.
    """
    files = sorted(p for p in shipped_folder("library").iterdir() if p.suffix in (".csv", ".toml"))
    return tuple((p.name, sha256(p.read_bytes())) for p in files)


def _file(path: str, data: bytes) -> Facts:
    return {"path": path, "sha256": sha256(data), "bytes": len(data)}
