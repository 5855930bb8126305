"""Loads a lark grammar, with its tables cached in the user's own cache folder. Knows nothing of any language.

The folder is never a shared temporary one: the cache is a pickle, and a pickle that another user can write is
a program that another user can run.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO

from plangen.shipped.folders import shipped_text

if TYPE_CHECKING:
    from lark import Lark


def cache_folder() -> Path | None:
    """Return the folder for cached tables, or None where the user has none."""
    try:
        if sys.platform == "win32":
            base = os.environ.get("LOCALAPPDATA")
            return Path(base) / "plangen" / "Cache" if base else None
        given = os.environ.get("XDG_CACHE_HOME")
        if given and Path(given).is_absolute():
            return Path(given) / "plangen"
        home = Path.home()
    except (OSError, RuntimeError):
        return None
    return home / ("Library/Caches" if sys.platform == "darwin" else ".cache") / "plangen"


def load_grammar(
    file: str,
    start: tuple[str, ...],
    postlex: Any = None,
    transformer: Any = None,
    lexer: str = "basic",
    positions: bool = False,
) -> Lark:
    """Return the LALR parser of a shipped grammar file, from the cache if it is there and whole.

    With the basic lexer what a run of characters means never depends on where it stands; the contextual one
    keeps the words of phrases free as names elsewhere. `positions` puts spans on the trees. A cache that
    cannot be read or written costs time and nothing else.
    """
    import lark

    text = shipped_text("grammar", file)
    key = "\n".join([text, repr(start), lexer, repr(positions), lark.__version__, sys.version])
    digest = hashlib.sha256(key.encode()).hexdigest()[:20]
    folder = cache_folder()
    path = folder / f"{Path(file).stem}-{digest}.lark" if folder else None
    if path is not None:
        found = _from_cache(path, postlex, transformer)
        if found is not None:
            return found
    parser = lark.Lark(
        text,
        parser="lalr",
        lexer=lexer,
        start=list(start),
        postlex=postlex,
        transformer=transformer,
        propagate_positions=positions,
    )
    if path is not None:
        _to_cache(parser, path)
    return parser


def _from_cache(path: Path, postlex: Any, transformer: Any) -> Lark | None:
    import pickle

    import lark

    try:
        with path.open("rb") as file:
            stored = pickle.load(file)
        return lark.Lark._load_from_dict(
            stored["data"], stored["memo"], postlex=postlex, transformer=transformer
        )
    except Exception:  # a damaged pickle can raise anything; the grammar file itself is the remedy
        return None


def _to_cache(parser: Lark, path: Path) -> None:
    import pickle

    with contextlib.suppress(pickle.PicklingError):
        keep(path, lambda file: parser.save(file, exclude_options=("postlex", "transformer")))


def keep(path: Path, fill: Callable[[BinaryIO], object]) -> None:
    """Write a file of the cache beside its place and swap it in; one that cannot be written is left out."""
    import tempfile

    name = None
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=".part-")
        with os.fdopen(handle, "wb") as file:
            fill(file)
        os.replace(name, path)
        name = None
    except OSError:
        return
    finally:
        if name is not None and os.path.exists(name):
            os.unlink(name)
