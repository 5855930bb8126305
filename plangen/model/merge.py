"""One tree from a design and the files it includes; which parts stand in place of others."""

from __future__ import annotations

from dataclasses import dataclass, replace

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.model.schema.part import REPLACES
from plangen.model.version import check_version
from plangen.syntax.tree import Block, DesignTree, TermKind
from plangen.text.source import Span

# Blocks with settings of the whole design: they stand in the root file only, so that an include never changes
# what a bare coordinate or a finding means.
ROOT_ONLY = ("project", "site")


@dataclass(frozen=True, slots=True)
class MergedTrees:
    """All blocks as one tree, and the spans of the part blocks that say `replaces`."""

    tree: DesignTree
    replacing: frozenset[Span]


def merged_trees(
    root: DesignTree, included: tuple[DesignTree, ...], all_there: bool, problems: Problems
) -> MergedTrees:
    """Return the blocks of a design and of what it includes as one tree; a block out of place is told."""
    blocks = list(root.blocks)
    for tree in included:
        if tree.versions:
            check_version(tree, problems)
        for block in tree.blocks:
            if block.header[0].text in ROOT_ONLY:
                own = next((b for b in root.blocks if b.header[0].text == block.header[0].text), None)
                problems.error(
                    "PG2031",
                    f"an included file cannot hold the block `{block.header[0].text}`",
                    block.header[0].span,
                    help="move it into the file that includes this one",
                    labels=(Label(own.header[0].span, "the design's own"),) if own else (),
                )
            else:
                blocks.append(block)
    trees = (root, *included)
    found = [_unmarked(block) for block in blocks]
    tree = replace(
        root,
        blocks=tuple(block for block, _ in found),
        broken_names=frozenset().union(*(t.broken_names for t in trees)),
        whole=all_there and all(t.whole for t in trees),
        nameless=tuple(kind for t in trees for kind in t.nameless),
    )
    return MergedTrees(tree, frozenset(block.span for block, replaces in found if replaces))


def _unmarked(block: Block) -> tuple[Block, bool]:
    """Return a part block without its `replaces`, and whether it said so."""
    last = block.header[-1]
    marked = len(block.header) > 2 and last.kind is TermKind.WORD and last.text == REPLACES
    if block.header[0].text != "part" or not marked:
        return block, False
    return replace(block, header=block.header[:-1]), True
