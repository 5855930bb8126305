"""Bytes to text: what is tolerated, and what is told of a file that is no design."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.parsing.decode import decode


def test_a_byte_order_mark_and_windows_line_ends_are_tolerated() -> None:
    found = decode("d.plan", b"\xef\xbb\xbfplangen 1\r\nsite {\r}\r\n").value
    assert found is not None
    assert found.text == "plangen 1\nsite {\n}\n"


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "PG0004"),
        (b" \n\t\n", "PG0004"),
        (b"plangen 1\n\x00\x00\x01\x02", "PG0005"),
        ("plangen 1\n".encode("utf-16"), "PG0006"),
        ("plangen 1\n".encode("utf-16-le"), "PG0006"),
        ("plangen 1\n".encode("utf-32"), "PG0006"),
        ('owner "Café"\n'.encode("cp1252"), "PG0006"),
    ],
)
def test_what_is_no_text_in_utf8_gives_one_message(data: bytes, code: str) -> None:
    outcome = decode("d.plan", data)
    assert outcome.value is None
    assert [p.code for p in outcome.problems] == [code]


def test_the_line_of_a_bad_byte_is_named() -> None:
    message = decode("d.plan", b"plangen 1\n\nowner \xe9\n").problems[0].message
    assert "line 3" in message


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=200))
def test_no_bytes_ever_raise(data: bytes) -> None:
    outcome = decode("d.plan", data)
    assert (outcome.value is None) == bool(outcome.problems)
