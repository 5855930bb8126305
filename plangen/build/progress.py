"""Tell a waiting person what is being done: on standard error, never on standard output."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from typing import TextIO

# Shorter runs say nothing on a terminal: a line that flashes by helps nobody.
QUIET_S = 1.0


@dataclass(slots=True)
class Progress:
    """Says each step. On a terminal one line is kept up to date once a run takes longer than `QUIET_S`;
    elsewhere (a log file) each step is a short line of its own."""

    stream: TextIO
    wanted: bool = True
    started: float = field(default_factory=time.monotonic)
    width: int = 0

    def step(self, words: str) -> None:
        """Say what comes next."""
        if not self.wanted:
            return
        if not self.stream.isatty():
            self.stream.write(f"plangen: {words}\n")
            return
        if time.monotonic() - self.started > QUIET_S:
            self.stream.write("\r" + f"plangen: {words} …".ljust(self.width))
            self.stream.flush()
            self.width = len(words) + 12

    def done(self) -> None:
        """Clear the line that was kept up to date."""
        if self.width:
            self.stream.write("\r" + " " * self.width + "\r")
            self.stream.flush()
            self.width = 0
