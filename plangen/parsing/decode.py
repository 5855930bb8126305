"""Bytes of a file to text, or what is wrong with them in an author's words. Reads no file."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Diagnostic
from plangen.text.source import Span

# A design of 10,000 heads has about one megabyte; a file beyond this is something else (a scan, a database).
MOST_BYTES = 2_000_000
# First bytes of files that people pass by mistake, and what to call them.
_MAGIC = (
    (b"%PDF", "a PDF file"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"PK\x03\x04", "a zip or office file"),
    (b"\x1f\x8b", "a compressed file"),
    (b"\x7fELF", "a program"),
    (b"MZ", "a program"),
)
# UTF-32 first: its little-endian mark begins with that of UTF-16.
_WIDE_MARKS = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)


def decode(raw: bytes, name: str) -> str | Diagnostic:
    """Return the text of a UTF-8 file, line ends made `\\n` and a byte-order mark left out, or the fault."""
    span = Span(name, 0, 0)
    if len(raw) > MOST_BYTES:
        words = f"the file has more than {MOST_BYTES // 1_000_000} million bytes, more than a design can have"
        return Diagnostic("PG0005", words, span)
    for magic, words in _MAGIC:
        if raw.startswith(magic):
            return Diagnostic(
                "PG0005", f"this is {words}, not a text file", span, help="a design is plain text in UTF-8"
            )
    for mark, encoding in _WIDE_MARKS:
        if raw.startswith(mark):
            return Diagnostic(
                "PG0006",
                f"the file is in {encoding}, not in UTF-8",
                span,
                help="save it again with the encoding UTF-8",
            )
    if b"\x00" in raw:
        return _with_zero_bytes(raw, span)
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = raw.count(b"\n", 0, fault.start) + 1
        return Diagnostic(
            "PG0006",
            f"line {line} has a byte that is not UTF-8",
            span,
            help="save the file again with the encoding UTF-8",
        )
    if not text.strip():
        return Diagnostic(
            "PG0004", "the file is empty", span, help="`examples/residential` shows what a design says"
        )
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _with_zero_bytes(raw: bytes, span: Span) -> Diagnostic:
    """Tell UTF-16 without a mark (every second byte is zero) from a file that is no text at all."""
    head = raw[:4096]
    shares = sorted(half.count(0) / max(len(half), 1) for half in (head[0::2], head[1::2]))
    if shares[0] < 0.1 and shares[1] > 0.8:
        return Diagnostic(
            "PG0006",
            "the file looks like UTF-16, not UTF-8",
            span,
            help="save it again with the encoding UTF-8",
        )
    return Diagnostic(
        "PG0005", "this is a binary file, not text", span, help="a design is plain text in UTF-8"
    )
