"""The cached grammar: in the user's own folder, rebuilt when damaged, silent when nothing can be written."""

from __future__ import annotations

from pathlib import Path

import pytest

from plangen.parsing.grammar_cache import cache_folder, load_grammar


def test_the_folder_is_the_users_own(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    assert cache_folder() == tmp_path / "plangen"
    monkeypatch.setenv("XDG_CACHE_HOME", "relative")
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    assert cache_folder() == tmp_path / "home" / ".cache" / "plangen"
    monkeypatch.setattr("sys.platform", "darwin")
    assert cache_folder() == tmp_path / "home" / "Library" / "Caches" / "plangen"
    monkeypatch.setattr("sys.platform", "win32")
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "local"))
    assert cache_folder() == tmp_path / "local" / "plangen" / "Cache"


def test_a_damaged_cache_is_replaced(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    load_grammar("design.lark", ("statement",))
    (cached,) = (tmp_path / "plangen").glob("*.lark")
    cached.write_bytes(b"not a pickle")
    parser = load_grammar("design.lark", ("statement",))
    assert parser.parse("cover 12 in", start="statement") is not None
    assert cached.read_bytes() != b"not a pickle"


def test_a_folder_that_cannot_be_written_costs_nothing_but_time(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way", encoding="utf-8")
    monkeypatch.setenv("XDG_CACHE_HOME", str(blocked))
    parser = load_grammar("design.lark", ("statement",))
    assert parser.parse("cover 12 in", start="statement") is not None
