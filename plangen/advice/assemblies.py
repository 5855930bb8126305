"""Parts an assembly could be of: those the design's own files define, and the shipped ones."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from plangen.diagnostics.diagnostic import Problems
from plangen.model.bind_blocks import BlockBinder
from plangen.model.build_parts import PartTable
from plangen.model.parts import Part
from plangen.shipped.folders import shipped_text
from plangen.syntax.read_tree import read_tree
from plangen.syntax.tree import DesignTree
from plangen.text.source import SourceFile, SourceSet

LIBRARY = "parts.plan"


@dataclass(frozen=True, slots=True)
class Offered:
    """A part on offer; `text` is its block to be added to the design, empty where the design has it."""

    part: Part
    text: str = ""


def offered_assemblies(trees: Iterable[tuple[SourceFile, DesignTree]]) -> tuple[Offered, ...]:
    """Return the assemblies on offer in the order of names; a shipped part gives way to the design's own."""
    own: dict[str, Offered] = {}
    names: set[str] = set()
    for source, tree in trees:
        names |= {b.header[1].text for b in tree.blocks if b.header[0].text == "part" and len(b.header) > 1}
        own |= {p.name: Offered(p) for p in _assemblies(source, tree)}
    shipped = {o.part.name: o for o in _shipped() if o.part.name not in names}
    return tuple(o for _, o in sorted({**shipped, **own}.items()))


def _assemblies(source: SourceFile, tree: DesignTree) -> tuple[Part, ...]:
    problems = Problems()
    table = PartTable(problems, False)
    blocks = tuple(b for b in tree.blocks if b.header[0].text == "part")
    only = DesignTree(tree.file, tree.versions, blocks, whole=False)
    for block in BlockBinder(SourceSet((source,)), problems).blocks(only):
        table.add(block)
    return tuple(p for p in table.parts.values() if p.kind == "assembly" and p.size is not None)


@lru_cache(maxsize=1)
def _shipped() -> tuple[Offered, ...]:
    source = SourceFile.of(LIBRARY, shipped_text("library", LIBRARY))
    tree = read_tree(source).value
    if tree is None:
        return ()
    text_of = {}
    for block in tree.blocks:
        end = source.text.find("\n}", block.span.start) + 3
        text_of[block.header[1].text] = source.text[block.span.start : end]
    return tuple(Offered(p, text_of[p.name]) for p in _assemblies(source, tree))
