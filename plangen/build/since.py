"""What a design changes against an earlier packet: read from the texts that the packet carries."""

from __future__ import annotations

from pathlib import Path

from plangen.annotation.clouds import Revised
from plangen.build.respond import earlier_design
from plangen.build.source_files import NotAPacket, read_claims
from plangen.model.design import Design
from plangen.packet.changes import changes


def revised_since(folder: Path, design: Design) -> Revised:
    """Return the objects that the latest revision changes against the packet in a folder.

    Raises:
        NotAPacket: the folder is no packet, or carries no design that can be read.
        OSError: a file cannot be read.
    """
    claimed = read_claims(folder)
    before = earlier_design(folder, claimed.design)
    if before is None:
        raise NotAPacket("its own design cannot be read, so nothing can be compared with it")
    revisions = design.project.revisions
    changed = sorted({change.object for change in changes(before, design)})
    return Revised(revisions[-1].label if revisions else "", tuple(changed), claimed.digest)
