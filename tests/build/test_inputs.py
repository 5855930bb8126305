"""Files that are no design text end in a message, never in an exception.

Expectations: the project's own contract for exit status 2; no outside source.
"""

from __future__ import annotations

from plangen.build.inputs import Input, read_input
from plangen.diagnostics.diagnostic import Diagnostic


def test_paths_that_are_no_files(tmp_path):
    for path, code in ((tmp_path, "PG0003"), (tmp_path / "no.plan", "PG0002"), (tmp_path / "a\0b", "PG0002")):
        fault = read_input(path, "no.plan")
        assert isinstance(fault, Diagnostic) and fault.code == code


def test_bytes_are_kept_as_read(tmp_path):
    (tmp_path / "d.plan").write_bytes(b"plangen 1\r\n")
    read = read_input(tmp_path / "d.plan", "d.plan")
    assert isinstance(read, Input)
    assert (read.raw, read.source.text) == (b"plangen 1\r\n", "plangen 1\n")
