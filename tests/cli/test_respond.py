"""`plangen respond`: comments and revisions in, a letter out that hides no change.

Source of every expectation: the fields of a comment and response log as agencies ask for them (the project's
facts, section 3.4), and changes made here by hand to the residential design.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from plangen.build.respond import earlier_design
from plangen.cli.main import main
from plangen.packet.changes import changes
from plangen.packet.comments import NoWorksheet, read_worksheet

HOSTILE = '<script>alert(1)</script> | **bold** [x](javascript:y) "quoted" \u202eright to left'
REVISION = '  revision B     2026-05-18 "Assembly raised" answers comment 1\n'


@pytest.fixture
def job(packet, tmp_path) -> Path:
    """A revised design (assembly raised for comment 1, a head moved for nobody) and the comments."""
    text = (packet / "source" / "design.plan").read_text(encoding="utf-8")
    for old, new in (
        ("  sheet          ansi-b\n", f"{REVISION}  sheet          ansi-b\n"),
        ("critical level 28 in", "critical level 30 in"),
        ("head H26       spray-15q, at (46, 4), on L25", "head H26       spray-15q, at (45, 4), on L25"),
    ):
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    (tmp_path / "design.plan").write_text(text, encoding="utf-8")
    digest = json.loads((packet / "manifest.json").read_text(encoding="utf-8"))["digest"]
    comments = [
        {"number": "1", "sheet": "LI501", "zone": "B2", "object": "BF1", "code": "344", "text": "Raise it"},
        {"number": "2", "sheet": "LI101", "kind": "clarification", "text": HOSTILE, "by": "Q. R."},
    ]
    whole = {"format": "plangen-comments/1", "digest": digest, "design": "design.plan", "comments": comments}
    (tmp_path / "comments.json").write_text(json.dumps(whole), encoding="utf-8")
    return tmp_path


def section(text: str, head: str) -> str:
    return text.split(f"\n## {head}\n", 1)[1].split("\n## ", 1)[0]


def test_each_comment_is_answered_with_what_changed_for_it(job, packet, capsys):
    assert main(["respond", str(job / "comments.json"), "--since", str(packet)]) == 1
    said = capsys.readouterr().out
    first = section(said, "Comment 1")
    assert "**Response:** Assembly raised." in first and "**Kind of response:** revised" in first
    assert "BF1: assembly, height: 28 in → 30 in" in first
    assert "revision B of 2026-05-18" in first and "LI101" in first and "**Status:** answered" in first
    second = section(said, "Comment 2")
    assert "**Status:** open" in second and "**Response:** none" in second
    assert "2 comments, 1 answered, 1 open." in said


def test_a_change_nobody_asked_for_is_listed(job, packet, capsys):
    main(["respond", str(job / "comments.json"), "--since", str(packet)])
    unasked = section(capsys.readouterr().out, "Changes nobody asked for")
    assert "H26: head, point:" in unasked
    assert "BF1: assembly, height" not in unasked


def test_a_figure_that_only_moved_stands_apart_from_what_was_changed(job, packet, capsys):
    main(["respond", str(job / "comments.json"), "--since", str(packet)])
    said = capsys.readouterr().out
    moved = section(said, "Figures that moved, with the verdict unchanged")
    assert "H26: finding" in moved and "meets" in moved
    assert "finding" not in section(said, "Changes nobody asked for")


def test_without_an_earlier_packet_nothing_is_said_to_be_unchanged(job, capsys):
    main(["respond", str(job / "comments.json")])
    said = capsys.readouterr().out
    assert "None." not in section(said, "Changes nobody asked for")
    assert "Not known: no earlier packet was given" in said
    assert "**Changed sheets:** not known, no earlier packet given" in section(said, "Comment 1")


def test_both_forms_show_hostile_text_as_text(job, packet, capsys):
    out = job / "letter"
    assert main(["respond", str(job / "comments.json"), "--since", str(packet), "--out", str(out)]) == 1
    html = (job / "letter.html").read_text(encoding="utf-8")
    assert "<script" not in html and "&lt;script&gt;alert(1)" in html
    markdown = (job / "letter.md").read_text(encoding="utf-8")
    assert "\\<script\\>" in markdown and "\\[x\\]\\(javascript:y\\)" in markdown
    for text in (html, markdown):
        assert "local code, the water purveyor and licensed practice decide" in text.replace("\n", " ")


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"[]",
        b"{",
        b"\xff\xfe",
        b'{"format": "other"}',
        b'{"format": "plangen-comments/1", "comments": [1]}',
        b'{"format": "plangen-comments/1", "comments": [{"number": "1"}, {"number": "1"}]}',
        b"[" * 100_000,
    ],
)
def test_what_is_no_worksheet_is_told(data, tmp_path, capsys):
    with pytest.raises(NoWorksheet):
        read_worksheet(data)
    path = tmp_path / "comments.json"
    path.write_bytes(data)
    assert main(["respond", str(path)]) == 2
    assert "cannot be used" in capsys.readouterr().err


def test_a_missing_design_or_packet_is_told(job, tmp_path, capsys):
    assert main(["respond", str(job / "comments.json"), "--since", str(tmp_path / "none")]) == 2
    (job / "design.plan").unlink()
    assert main(["respond", str(job / "comments.json")]) == 2
    assert "--design" in capsys.readouterr().err


def test_an_earlier_design_is_read_with_the_parts_that_it_includes(packet, tmp_path):
    text = (packet / "source" / "design.plan").read_text(encoding="utf-8")
    parts = text[text.index("\npart ") :]
    main_text = f"{text.removesuffix(parts)}\ninclude library mine\n"
    library = tmp_path / "source" / "plangen-library"
    library.mkdir(parents=True)
    (library / "mine.plan").write_text(f"plangen 1\n\n{parts}", encoding="utf-8")
    (tmp_path / "source" / "design.plan").write_text(main_text, encoding="utf-8")
    whole = earlier_design(packet, "design.plan")
    assert changes(earlier_design(tmp_path, "design.plan"), whole) == ()
    (library / "mine.plan").unlink()
    assert earlier_design(tmp_path, "design.plan") is None
