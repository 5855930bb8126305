"""A bar on a terminal for work of many pieces: on standard error, and nowhere but on a terminal."""

from __future__ import annotations

import shutil
import time
from dataclasses import dataclass, field
from typing import TextIO

# Shorter work shows no bar: what flashes by helps nobody.
QUIET_S = 1.0
EVERY_S = 0.1
WIDTH = 24


@dataclass(slots=True)
class Bar:
    """Shows how many of `total` pieces are done; `what` names them."""

    stream: TextIO
    what: str
    total: int
    started: float = field(default_factory=time.monotonic)
    shown_at: float = 0.0
    width: int = 0

    def step(self, done: int) -> None:
        """Say that so many are done."""
        now = time.monotonic()
        if not self.stream.isatty() or now - self.started < QUIET_S or now - self.shown_at < EVERY_S:
            return
        self.shown_at = now
        line = bar_line(self.what, done, self.total, shutil.get_terminal_size().columns - 1)
        self.stream.write("\r" + line.ljust(self.width))
        self.stream.flush()
        self.width = len(line)

    def clear(self) -> None:
        """Take the bar off the screen."""
        if self.width:
            self.stream.write("\r" + " " * self.width + "\r")
            self.stream.flush()
            self.width = 0


def bar_line(what: str, done: int, total: int, room: int) -> str:
    """Return the line of a bar, no longer than `room` letters."""
    filled = WIDTH * done // total if total else WIDTH
    return f"plangen: {what} [{'#' * filled}{'.' * (WIDTH - filled)}] {done:,} of {total:,}"[: max(room, 0)]
