"""What a step of the work and the state of a valve are. Plain data; nothing is worked out or drawn here."""

from __future__ import annotations

from dataclasses import dataclass

COMMON_PRACTICE = "common practice, no source"
NOT_STATED = "NOT STATED"


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the work in order.

    `key` never changes when steps are added; `lines` is what is done; `figure` is this design's own
    numbers for it; `hold` names who must release it before the next step, or is empty; `source` cites
    the law or standard paraphrased, or says that it is common practice.
    """

    number: int
    key: str
    title: str
    lines: tuple[str, ...]
    figure: str
    caution: str
    source: str
    hold: str = ""


@dataclass(frozen=True, slots=True)
class ValveState:
    """How one valve, cock or drain stands before water is let in: `state` is `closed`, `open` or words."""

    object: str
    part: str
    state: str
    why: str


@dataclass(frozen=True, slots=True)
class FillRow:
    """What it takes to fill and flush one pipe: metres, cubic metres, m3/s and seconds.

    `fill_s` is the time to fill this pipe alone at `fill_m3s`; `flush_m3s` is the flow that scours it.
    """

    pipe: str
    size: str
    role: str
    length_m: float
    bore_m: float
    volume_m3: float
    fill_m3s: float
    fill_s: float
    flush_m3s: float


@dataclass(frozen=True, slots=True)
class Filling:
    """Several pipes filled as one: volume in m3, the flow that keeps the smallest of them at the fill
    velocity, that pipe's size, and the time at that flow in seconds."""

    volume_m3: float
    held_m3s: float
    held_by: str
    time_s: float


@dataclass(frozen=True, slots=True)
class FillPlan:
    """The rows, and the fillings: all pressurised new pipes, those before the assembly, those after it.

    A filling is None where the design has no such pipe.
    """

    rows: tuple[FillRow, ...]
    main: Filling | None
    connection: Filling | None
    behind: Filling | None
    laterals_m3: float
    past: frozenset[str] = frozenset()  # the pipes that water reaches only through an assembly
