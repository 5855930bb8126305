"""Bytes to text: what is tolerated, and what is told of a file that is no design.

Source of the byte-order marks: The Unicode Standard 15, section 23.8 (table of encoding signatures).
Other expectations: the project's own contract for exit status 2; no outside source.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from plangen.diagnostics.diagnostic import Diagnostic
from plangen.parsing.decode import MOST_BYTES, decode


@pytest.mark.parametrize(
    ("raw", "code", "words"),
    [
        (b"", "PG0004", "empty"),
        (b" \r\n\t\n", "PG0004", "empty"),
        (b"\xef\xbb\xbf", "PG0004", "empty"),
        ("plangen 1\n".encode("utf-16"), "PG0006", "UTF-16"),
        ("plangen 1\n".encode("utf-16-le"), "PG0006", "UTF-16"),
        ("plangen 1\n".encode("utf-16-be"), "PG0006", "UTF-16"),
        ("plangen 1\n".encode("utf-32"), "PG0006", "UTF-32"),
        (b'plangen 1\nowner "Andr\xe9"\n', "PG0006", "line 2"),
        (b"plangen 1\n\nowner \xe9\n", "PG0006", "line 3"),
        (b"x" * (MOST_BYTES + 1), "PG0005", "2 million bytes"),
        (b"%PDF-1.7\n", "PG0005", "PDF"),
        (b"\x89PNG\r\n\x1a\n", "PG0005", "picture"),
        (b"PK\x03\x04", "PG0005", "zip"),
        (bytes(range(256)) * 8, "PG0005", "binary"),
        (b"plangen 1\n\x00\x00\n", "PG0005", "binary"),
    ],
)
def test_what_is_no_text_is_named(raw, code, words):
    fault = decode(raw, "design.plan")
    assert isinstance(fault, Diagnostic)
    assert fault.code == code
    assert words in fault.message


@pytest.mark.parametrize(
    "raw",
    [b"plangen 1\nend\n", b"plangen 1\r\nend\r\n", b"plangen 1\rend\r", b"\xef\xbb\xbfplangen 1\nend\n"],
)
def test_line_ends_and_a_mark_do_not_matter(raw):
    assert decode(raw, "design.plan") == "plangen 1\nend\n"


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=200))
def test_no_bytes_ever_raise(data: bytes) -> None:
    found = decode(data, "d.plan")
    assert isinstance(found, Diagnostic) or found.strip()
