"""Exchange two folders in one step where the system can, else by two renames that are undone on failure."""

from __future__ import annotations

import contextlib
import ctypes
import os
import sys
from pathlib import Path

_AT_FDCWD = -100  # Linux, fcntl.h: paths are relative to the working folder
_RENAME_EXCHANGE = 2  # Linux, renameat2(2)
_RENAME_SWAP = 2  # macOS, renamex_np(2)


def swap_folders(fresh: Path, place: Path) -> None:
    """Put `fresh` at `place`; what stood there stands at `fresh` afterwards.

    Raises:
        OSError: nothing was changed.
    """
    if not place.exists():
        os.rename(fresh, place)
        return
    if _exchange(fresh, place):
        return
    aside = place.with_name(place.name + ".old")
    os.rename(place, aside)
    try:
        os.rename(fresh, place)
    except OSError:
        os.rename(aside, place)
        raise
    # The new packet is in place: a name left over is no reason to call the build failed.
    with contextlib.suppress(OSError):
        os.rename(aside, fresh)


def _exchange(a: Path, b: Path) -> bool:
    """Exchange two names atomically; return False where the system or the file system cannot."""
    first, second = os.fsencode(a), os.fsencode(b)
    try:
        library = ctypes.CDLL(None)
        if sys.platform == "linux":
            return bool(library.renameat2(_AT_FDCWD, first, _AT_FDCWD, second, _RENAME_EXCHANGE) == 0)
        if sys.platform == "darwin":
            return bool(library.renamex_np(first, second, _RENAME_SWAP) == 0)
    except (OSError, AttributeError, TypeError):
        return False
    return False
