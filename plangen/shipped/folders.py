"""Where the shipped data folders are. The only module that knows; everything else asks here.

The folders stand beside the package in a checkout or an editable install, and inside it in a wheel.
"""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent
KINDS = ("grammar", "rules", "site", "examples", "library")


def shipped_folder(kind: str) -> Path:
    """Return the folder of one kind of shipped data (one of `KINDS`).

    Raises:
        FileNotFoundError: the installation is incomplete.
    """
    if kind == "library":
        return _PACKAGE / "library"
    for folder in (_PACKAGE.parent / kind, _PACKAGE / "_data" / kind):
        # A checkout is told from an installed wheel by the project file beside the package: a stray
        # folder called `rules` in site-packages must never be taken for ours.
        if folder.is_dir() and (folder.parent == _PACKAGE / "_data" or _is_checkout()):
            return folder
    raise FileNotFoundError(f"this installation of plangen lacks its {kind} folder")


def shipped_text(kind: str, *parts: str) -> str:
    """Return the text of one shipped file, line ends normalised."""
    return shipped_folder(kind).joinpath(*parts).read_text(encoding="utf-8").replace("\r\n", "\n")


def _is_checkout() -> bool:
    return (_PACKAGE.parent / "pyproject.toml").is_file() and (_PACKAGE.parent / "grammar").is_dir()
