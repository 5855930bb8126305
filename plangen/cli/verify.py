"""`plangen verify`: make a packet again from the texts inside it, and say what differs."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from plangen.build.progress import Progress
from plangen.build.source_files import NotAPacket
from plangen.cli.exits import Exit
from plangen.cli.findings_text import CAUTION

# More than this on one screen helps nobody; the first lines tell where to look.
MOST = 60


def verify_command(arguments: argparse.Namespace) -> Exit:
    """Compare one packet with its own rebuilding: status 0 the same, 1 it differs, 2 no packet."""
    from plangen.build.verify import verify_packet

    folder: Path = arguments.packet
    progress = Progress(sys.stderr)
    try:
        result = verify_packet(folder, progress.step)
    except (NotAPacket, OSError) as fault:
        progress.done()
        said = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        sys.stderr.write(f"plangen: {folder.as_posix()} cannot be verified: {said}\n")
        return Exit.UNUSABLE
    progress.done()
    lines = [f"note: {note}" for note in result.notes]
    lines += [f"differs: {difference}" for difference in result.differences[:MOST]]
    if len(result.differences) > MOST:
        lines.append(f"and {len(result.differences) - MOST} more differences")
    if result.digest:
        lines.append(f"digest of the attached texts: {result.digest}; compare it with the one on the sheets")
    lines.append(
        f"Same: all {result.compared} files are what the attached design and packs give."
        if result.same
        else f"Different: {folder.as_posix()} is not what the attached design and packs give."
    )
    sys.stdout.write("\n".join([*lines, CAUTION]) + "\n")
    return Exit.FINE if result.same else Exit.FALLS_SHORT
