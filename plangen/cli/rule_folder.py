"""The argument of `--rules`: a folder that must hold rule packs, or one would be left out unseen."""

from __future__ import annotations

import argparse
from pathlib import Path

from plangen.build.pack_texts import PACK_FILE


def rule_folder(text: str) -> Path:
    """Return a folder with rule packs in it; raise `ArgumentTypeError`, with a way out, for any other."""
    folder = Path(text)
    if any(folder.glob(f"*/{PACK_FILE}")):
        return folder
    why = f"no rule pack lies in {text}: it holds a folder for each pack, with a {PACK_FILE} in it"
    if (folder / PACK_FILE).is_file():
        why = f"{text} is itself a rule pack; name the folder above it"
    raise argparse.ArgumentTypeError(why if folder.is_dir() else f"there is no folder {text}")
