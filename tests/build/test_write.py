"""A packet is swapped in whole, and nothing plangen did not make is ever overwritten.

Source of every expectation: the project's own contract for `plangen build`; no outside source.
"""

from __future__ import annotations

import contextlib
import itertools
import json
import os
import pathlib
import shutil
import signal
import subprocess
import sys
import tempfile
import time

import pytest

from plangen.build import swap, write
from plangen.build.digest import sha256
from plangen.build.write import Product, WriteRefused, write_packet


def packet(text: str) -> tuple[Product, ...]:
    files = [Product("index.html", text.encode()), Product("sheets/G-001.svg", b"<svg/>" + text.encode())]
    listed = [{"path": f.path, "sha256": sha256(f.data)} for f in files]
    manifest = {"format": write.MANIFEST_FORMAT, "products": listed}
    return (*files, Product("manifest.json", json.dumps(manifest).encode()))


def held(folder: pathlib.Path) -> dict[str, bytes]:
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


def wanted(text: str) -> dict[str, bytes]:
    return {f.path: f.data for f in packet(text)}


def test_writes_and_replaces_whole(tmp_path):
    out = tmp_path / "deep" / "packet"
    write_packet(out, packet("one"))
    assert held(out) == wanted("one")
    write_packet(out, packet("two"))
    assert held(out) == wanted("two")
    assert [p.name for p in out.parent.iterdir()] == ["packet"]


def test_replaces_whole_without_exchange(tmp_path, monkeypatch):
    monkeypatch.setattr(swap, "_exchange", lambda a, b: False)
    test_writes_and_replaces_whole(tmp_path)


def test_an_empty_folder_may_be_filled(tmp_path):
    (tmp_path / "out").mkdir()
    write_packet(tmp_path / "out", packet("one"))
    assert held(tmp_path / "out") == wanted("one")


@pytest.mark.parametrize("name", ["letter.txt", "manifest.json", ".hidden", "sub/deep.txt"])
def test_refuses_a_foreign_folder(tmp_path, name):
    foreign = tmp_path / "out" / name
    foreign.parent.mkdir(parents=True)
    foreign.write_text("mine")
    with pytest.raises(WriteRefused, match="not made by plangen"):
        write_packet(tmp_path / "out", packet("one"))
    assert held(tmp_path / "out") == {name: b"mine"}
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_refuses_a_file(tmp_path):
    (tmp_path / "out").write_text("mine")
    with pytest.raises(WriteRefused, match="is a file"):
        write_packet(tmp_path / "out", packet("one"))
    assert (tmp_path / "out").read_text() == "mine"


def test_refuses_to_lose_files_put_into_a_packet_or_changed_in_it(tmp_path):
    out = tmp_path / "out"
    write_packet(out, packet("one"))
    (out / "comments.json").write_text("{}")
    with pytest.raises(WriteRefused, match=r"comments\.json"):
        write_packet(out, packet("two"))
    (out / "comments.json").unlink()
    (out / "index.html").write_text("signed by hand")
    with pytest.raises(WriteRefused, match=r"changed since.*index\.html"):
        write_packet(out, packet("two"))


def test_refuses_a_foreign_folder_where_it_writes_first(tmp_path):
    (tmp_path / "out.new").mkdir()
    (tmp_path / "out.new" / "thesis.txt").write_text("mine")
    with pytest.raises(WriteRefused, match=r"out\.new"):
        write_packet(tmp_path / "out", packet("one"))
    assert (tmp_path / "out.new" / "thesis.txt").read_text() == "mine"


class Fault(OSError):
    """The disk says no."""


OPERATIONS = [
    (os, "rename"),
    (pathlib.Path, "mkdir"),
    (pathlib.Path, "write_bytes"),
    (pathlib.Path, "unlink"),
    (pathlib.Path, "rmdir"),
    (pathlib.Path, "touch"),
    (shutil, "rmtree"),
]


@pytest.mark.parametrize("exchange", [True, False])
@pytest.mark.parametrize(("owner", "name"), OPERATIONS, ids=lambda x: getattr(x, "__name__", x))
@pytest.mark.parametrize("kind", [Fault, KeyboardInterrupt])
def test_a_fault_at_any_operation_leaves_a_whole_packet(tmp_path, monkeypatch, owner, name, exchange, kind):
    """Each operation fails at its first, second, ... call; KeyboardInterrupt stands for a kill."""
    real = getattr(owner, name)
    if not exchange:
        monkeypatch.setattr(swap, "_exchange", lambda a, b: False)
    for nth in range(1, 8):
        out = tmp_path / f"{nth}" / "out"
        write_packet(out, packet("old"))
        calls = []

        def failing(*args, nth=nth, calls=calls, **words):
            calls.append(1)
            if len(calls) == nth:
                raise kind("injected")
            return real(*args, **words)

        with monkeypatch.context() as patch:
            patch.setattr(owner, name, failing)
            with contextlib.suppress(OSError, KeyboardInterrupt):
                write_packet(out, packet("new"))
        whole = [wanted("old"), wanted("new")]
        if out.exists():
            assert held(out) in whole
        else:  # killed between two renames: the old packet stands beside, whole
            assert not exchange and kind is KeyboardInterrupt
            assert held(out.with_name("out.old")) in whole
        write_packet(out, packet("newer"))
        assert held(out) == wanted("newer")
        assert [p.name for p in out.parent.iterdir()] == ["out"]


@pytest.mark.skipif(
    os.name == "nt",
    reason="Windows has no SIGKILL: the kill at any moment cannot be made there; runs on Linux and macOS",
)
def test_a_killed_process_leaves_the_old_packet(tmp_path):
    out = tmp_path / "out"
    write_packet(out, packet("old"))
    script = (
        "import pathlib, sys, time\n"
        "from plangen.build.write import Product, write_packet\n"
        "real = pathlib.Path.write_bytes\n"
        "def slow(self, data):\n"
        "    real(self, data)\n"
        "    if self.name == 'index.html':\n"
        "        print('half', flush=True); time.sleep(60)\n"
        "pathlib.Path.write_bytes = slow\n"
        "files = (Product('index.html', b'x'), Product('manifest.json', b'{}'))\n"
        "write_packet(pathlib.Path(sys.argv[1]), files)\n"
    )
    child = subprocess.Popen([sys.executable, "-c", script, str(out)], stdout=subprocess.PIPE)
    assert child.stdout is not None and child.stdout.readline() == b"half\n"
    child.send_signal(signal.SIGKILL)
    child.wait()
    child.stdout.close()
    assert held(out) == wanted("old")
    write_packet(out, packet("new"))
    assert held(out) == wanted("new")
    assert not out.with_name("out.new").exists()


def in_a_child(work) -> int:
    """Run something in a process of its own and return how it ended: 0 done, 1 the system said no."""
    child = os.fork()
    if child == 0:
        status = 2
        try:
            work()
            status = 0
        except OSError:
            status = 1
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


@pytest.mark.skipif(
    not hasattr(os, "fork"),
    reason="Windows has no fork, by which the stop at each file operation is made; runs on Linux and macOS",
)
@pytest.mark.parametrize("exchange", [True, pytest.param(False, marks=pytest.mark.long)])
def test_fifty_kills_at_any_moment_leave_a_whole_packet(tmp_path, monkeypatch, exchange):
    """A process that writes two packets in turn is killed fifty times, each a little later than the last."""
    if not exchange:
        monkeypatch.setattr(swap, "_exchange", lambda a, b: False)
    out = tmp_path / "out"
    write_packet(out, packet("0"))
    whole = [wanted("0"), wanted("1")]
    for nth in range(50):
        child = os.fork()
        if child == 0:
            for turn in itertools.count():
                write_packet(out, packet(str(turn % 2)))
        time.sleep(0.0004 * nth)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        stands = out if out.exists() else out.with_name("out.old")
        assert held(stands) in whole, nth
    write_packet(out, packet("last"))
    assert held(out) == wanted("last") and [p.name for p in tmp_path.iterdir()] == ["out"]


@pytest.mark.skipif(
    not hasattr(os, "fork"),
    reason="Windows has no fork, by which the stop at each file operation is made; runs on Linux and macOS",
)
def test_a_disk_that_takes_no_more_leaves_the_old_packet(tmp_path):
    """The system itself refuses: no file may grow past a few bytes (RLIMIT_FSIZE, setrlimit(2))."""
    resource = pytest.importorskip("resource")
    out = tmp_path / "out"
    write_packet(out, packet("old"))

    def full():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (8, 8))
        write_packet(out, packet("new"))

    assert in_a_child(full) == 1
    assert held(out) == wanted("old") and [p.name for p in tmp_path.iterdir()] == ["out"]


@pytest.mark.skipif(
    not hasattr(os, "fork"),
    reason="Windows has no fork, by which the stop at each file operation is made; runs on Linux and macOS",
)
def test_a_folder_that_may_not_be_written_in_keeps_what_it_has():
    """Nobody (65534) writes, since root may write anywhere; the same in an open folder succeeds."""
    base = pathlib.Path(tempfile.mkdtemp())
    base.chmod(0o755)
    shelf, open_shelf = base / "shelf", base / "open"
    write_packet(shelf / "out", packet("old"))
    open_shelf.mkdir()

    def write(place: pathlib.Path):
        if os.geteuid() == 0:
            os.setuid(65534)
        write_packet(place / "out", packet("new"))

    shelf.chmod(0o555)
    open_shelf.chmod(0o777)
    try:
        assert in_a_child(lambda: write(open_shelf)) == 0
        assert in_a_child(lambda: write(shelf)) == 1
        assert held(shelf / "out") == wanted("old") and [p.name for p in shelf.iterdir()] == ["out"]
    finally:
        shelf.chmod(0o755)
        shutil.rmtree(base)
