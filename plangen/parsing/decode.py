"""Bytes of a file to text with positions, or what is wrong with them in an author's words. Reads no file."""

from __future__ import annotations

from plangen.diagnostics.diagnostic import Outcome, Problems
from plangen.text.source import SourceFile, Span

# A design of 10,000 heads has about one megabyte.
MOST_BYTES = 20_000_000
_WIDE = (
    (b"\xff\xfe\x00\x00", "UTF-32"),
    (b"\x00\x00\xfe\xff", "UTF-32"),
    (b"\xff\xfe", "UTF-16"),
    (b"\xfe\xff", "UTF-16"),
)
_SAVE = "save it again as plain text with the encoding UTF-8"


def decode(name: str, data: bytes) -> Outcome[SourceFile]:
    """Return the text of a UTF-8 file, without byte-order mark and with `\\n` line ends, or the fault."""
    problems = Problems()
    span = Span(name, 0, 0)
    text = ""
    if len(data) > MOST_BYTES:
        problems.error("PG0005", f"the file has {len(data)} bytes, more than a design can have", span)
    elif encoding := _wide(data):
        problems.error("PG0006", f"the file is in {encoding}, not in UTF-8", span, help=_SAVE)
    elif b"\x00" in data:
        problems.error(
            "PG0005", "this is a binary file, not text", span, help="a design is plain text in UTF-8"
        )
    else:
        try:
            text = data.decode("utf-8-sig").replace("\r\n", "\n").replace("\r", "\n")
        except UnicodeDecodeError as fault:
            line = data.count(b"\n", 0, fault.start) + 1
            problems.error("PG0006", f"line {line} has a byte that is not UTF-8", span, help=_SAVE)
        else:
            if not text.strip():
                problems.error("PG0004", "the file is empty", span, help="begin with the line `plangen 1`")
    if problems.items:
        return Outcome(None, problems.done())
    return Outcome(SourceFile.of(name, text))


def _wide(data: bytes) -> str:
    """Return the wide encoding the bytes are in, told by their mark or by zeros in every second byte."""
    for mark, encoding in _WIDE:
        if data.startswith(mark):
            return encoding
    head = data[:4096]
    if b"\x00" in head and len(head) > 3:
        shares = sorted(half.count(0) / len(half) for half in (head[0::2], head[1::2]))
        if shares[0] < 0.1 and shares[1] > 0.8:
            return "UTF-16"
    return ""
