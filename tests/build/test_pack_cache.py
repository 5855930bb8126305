"""Checked packs from the user's cache are the packs themselves; nothing wrong there is believed."""

from __future__ import annotations

from pathlib import Path

import pytest

from plangen.build.pack_cache import cached_packs
from plangen.build.pack_texts import pack_name, read_packs
from plangen.checking.load import load_packs
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.text.source import SourceFile


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the empty folder this process keeps its cache in."""
    monkeypatch.setattr("plangen.build.pack_cache.cache_folder", lambda: tmp_path / "cache")
    return tmp_path / "cache"


def texts() -> dict[str, SourceFile]:
    return {pack_name(p): p.source for p in read_packs().value or ()}


def kept(cache: Path) -> list[Path]:
    return sorted(cache.glob("packs-*"))


def test_the_second_run_takes_the_same_packs_from_the_cache(cache: Path) -> None:
    plain = load_packs(("quillmoor",), texts(), VOCABULARY, VERSION)
    first = cached_packs(("quillmoor",), texts(), VOCABULARY, VERSION)
    assert len(kept(cache)) == 1
    second = cached_packs(("quillmoor",), texts(), VOCABULARY, VERSION)
    assert repr(first) == repr(plain) == repr(second)


def test_a_changed_text_is_never_answered_from_the_cache(cache: Path) -> None:
    cached_packs(("quillmoor",), texts(), VOCABULARY, VERSION)
    changed = texts()
    old = changed["quillmoor"]
    changed["quillmoor"] = SourceFile.of(old.name, old.text + "\n# one more line\n")
    cached_packs(("quillmoor",), changed, VOCABULARY, VERSION)
    assert len(kept(cache)) == 2


@pytest.mark.parametrize("data", [b"", b"\x80\x05nonsense", b"\x80\x04N."])
def test_a_damaged_cache_is_not_believed(cache: Path, data: bytes) -> None:
    first = cached_packs(("quillmoor",), texts(), VOCABULARY, VERSION)
    kept(cache)[0].write_bytes(data)
    assert repr(cached_packs(("quillmoor",), texts(), VOCABULARY, VERSION)) == repr(first)


def test_packs_with_a_fault_are_not_kept(cache: Path) -> None:
    broken = texts()
    old = broken["quillmoor"]
    broken["quillmoor"] = SourceFile.of(old.name, old.text + "\nrule {\n")
    assert cached_packs(("quillmoor",), broken, VOCABULARY, VERSION).problems
    assert kept(cache) == []


def test_without_a_cache_folder_packs_are_read_each_time(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("plangen.build.pack_cache.cache_folder", lambda: None)
    assert cached_packs(("quillmoor",), texts(), VOCABULARY, VERSION).value
