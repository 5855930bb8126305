"""Write one file beside its place and swap it in, so that a broken run leaves the old one whole."""

from __future__ import annotations

import contextlib
import os
import shutil
import tempfile
from pathlib import Path


def replace_file(path: Path, data: bytes) -> None:
    """Put bytes in place of a file, which keeps its mode; a symbolic link stays one, its target is replaced.

    Raises:
        OSError: nothing was changed.
    """
    place = path.resolve()
    handle, name = tempfile.mkstemp(dir=place.parent, prefix=f".{place.name}.", suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        if place.exists():
            shutil.copymode(place, name)
        else:
            os.chmod(name, 0o666 & ~_umask())
        os.replace(name, place)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise


def _umask() -> int:
    """Return the process's mask of file modes, which can only be read by setting it."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
