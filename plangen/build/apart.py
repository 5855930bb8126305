"""Independent pieces of work over the machine's processors, results in the order of the pieces.

A piece whose process ends (killed, out of memory) is told as lost and hinders no other. Where no process can
be started the work is done here. What a result says never depends on how many processes there are.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
from collections import deque
from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from typing import TypeVar

P = TypeVar("P")
R = TypeVar("R")


@dataclass(frozen=True, slots=True)
class Lost:
    """What stands in place of a result whose process ended before it had one."""


def processors() -> int:
    """Return how many processors this process may use."""
    if sys.platform == "linux":
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def process_context() -> multiprocessing.context.BaseContext:
    """Fork on Linux, where it is cheap and this program has no threads; the system's own way elsewhere."""
    return multiprocessing.get_context("fork" if sys.platform == "linux" else None)


def each_apart(
    work: Callable[[P], R], pieces: Sequence[P], workers: int, told: Callable[[int], None]
) -> list[R | Lost]:
    """Return what `work` makes of each piece; `told` is called with the number done, in this process.

    `work` and the pieces go to other processes: a function of a module, and values that can be sent. What
    `work` raises is raised here.
    """
    done: dict[int, R | Lost] = {}
    waiting = deque(range(len(pieces)))
    while waiting and min(workers, len(waiting)) > 1:
        running: dict[Future[R], int] = {}
        try:
            _drain(work, pieces, min(workers, len(waiting)), waiting, running, done, told)
        except BrokenProcessPool:
            # One of those under way ended its process and with it the pool: each again, by itself.
            for place in sorted(i for i in running.values() if i not in done):
                done[place] = _alone(work, pieces[place])
                told(len(done))
        except (PermissionError, BlockingIOError, ImportError):
            waiting.extendleft(sorted((i for i in running.values() if i not in done), reverse=True))
            break
    for place in waiting:
        done[place] = work(pieces[place])
        told(len(done))
    return [done[i] for i in range(len(pieces))]


def _drain(
    work: Callable[[P], R],
    pieces: Sequence[P],
    workers: int,
    waiting: deque[int],
    running: dict[Future[R], int],
    done: dict[int, R | Lost],
    told: Callable[[int], None],
) -> None:
    """Work off what is waiting; no more than two pieces for each process are under way at a time."""
    with ProcessPoolExecutor(workers, mp_context=process_context()) as pool:
        try:
            while waiting or running:
                while waiting and len(running) < 2 * workers:
                    place = waiting.popleft()
                    running[pool.submit(work, pieces[place])] = place
                for future in wait(running, return_when=FIRST_COMPLETED).done:
                    done[running[future]] = future.result()
                    del running[future]
                    told(len(done))
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise


def _alone(work: Callable[[P], R], piece: P) -> R | Lost:
    with ProcessPoolExecutor(1, mp_context=process_context()) as pool:
        try:
            return pool.submit(work, piece).result()
        except BrokenProcessPool:
            return Lost()
