"""`plangen handbook`: the handbook as a folder of web pages that open from disk."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from plangen.build.handbook import handbook_products
from plangen.build.write import WriteRefused, write_packet
from plangen.cli.exits import Exit


def handbook_command(arguments: argparse.Namespace) -> Exit:
    """Write the handbook; a folder that plangen did not make is never overwritten."""
    out: Path = arguments.out
    products = handbook_products()
    try:
        write_packet(out, products)
    except (WriteRefused, OSError) as fault:
        said = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        sys.stderr.write(f"plangen: the handbook was not written to {out.as_posix()}: {said}\n")
        return Exit.NOT_WRITTEN
    sys.stdout.write(f"{out.as_posix()}/index.html: {len(products)} files\n")
    return Exit.FINE
