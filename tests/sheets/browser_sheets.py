"""Sheets as a browser shows them, and what a reviewer would find wrong with them.

`seen` hands SVG texts to a headless browser and returns what `browser_lint.js` measured there; the other
functions judge that. Nothing of the program's own measuring is used: the browser shapes the shipped
font itself.
"""

from __future__ import annotations

import base64
import json
import math
import re
import subprocess
from collections.abc import Iterable, Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

from plangen.shipped.folders import shipped_folder
from tests.programs import BROWSER

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-dev-shm-usage",
    "--allow-file-access-from-files",
)
OFFLINE = "--host-resolver-rules=MAP * ~NOTFOUND"
# Boxes of ink may touch by this much: the raster of any plotter is coarser.
TOUCH_MM = 0.05
# Pixels of a heavy line in a text's box that still count as touching: a corner of an eighth of a millimetre.
TOUCH_PX = 4
# A fan: so many leaders, longer than this and begun within it of each other, each so close to the next.
FAN_MM, FAN_LEADERS, FAN_DEG = 4.0, 4, 30.0
PLANS = ("irrigation-plan", "connection-plan", "match-line")

Seen = dict[str, Any]


def seen(svgs: Iterable[str], folder: Path) -> list[Seen]:
    """Return what a browser shows of each sheet, at half size."""
    page = folder / "sheets.html"
    page.write_text(_page(svgs), encoding="utf-8")
    done = subprocess.run(
        [str(BROWSER), *FLAGS, OFFLINE, f"--user-data-dir={folder / 'profile'}",
         "--virtual-time-budget=600000", "--dump-dom", page.as_uri()],
        capture_output=True, text=True, timeout=300, check=False,
    )  # fmt: skip
    found = re.search(r'<pre id="answer">([^<]*)</pre>', done.stdout)
    assert found, done.stderr[-2000:] + done.stdout[-500:]
    sheets: list[Seen] = json.loads(base64.b64decode(found[1]))
    return sheets


def _page(svgs: Iterable[str]) -> str:
    fonts = shipped_folder("site") / "fonts"
    faces = "".join(
        f"@font-face{{font-family:'IBM Plex Sans Condensed';font-weight:{weight};"
        f"src:url(data:font/ttf;base64,{base64.b64encode((fonts / name).read_bytes()).decode()})}}"
        for weight, name in (
            (400, "IBMPlexSansCondensed-Regular.ttf"),
            (700, "IBMPlexSansCondensed-Bold.ttf"),
        )
    )
    script = (Path(__file__).parent / "browser_lint.js").read_text(encoding="utf-8")
    body = "".join(_halved(svg) for svg in svgs)
    return (
        f"<!doctype html><meta charset=utf-8><style>{faces} svg{{display:block}}</style>"
        f"<body>{body}<script>{script}</script></body>"
    )


def _halved(svg: str) -> str:
    """Return a sheet shown at half its size: the reduced print a field copy is made as."""
    return re.sub(
        r'(width|height)="([0-9.]+)mm"', lambda m: f'{m[1]}="{float(m[2]) / 2:.4f}mm"', svg, count=2
    )


def wrong_font(sheet: Seen) -> list[str]:
    """Return texts whose length differs between SVG and canvas: then the ink was measured in another face."""
    return [
        f"{sheet['id']}: `{t['words']}` is {t['drawn']:.3f} long, measured {t['advance']:.3f}"
        for t in sheet["texts"]
        if abs(t["drawn"] - t["advance"]) > 0.01 * t["advance"] + 0.05
    ]


def overlaps(sheet: Seen) -> list[str]:
    """Return each pair of texts whose ink boxes lie on each other."""
    texts = sorted(sheet["texts"], key=lambda t: min(x for x, _ in t["quad"]))
    found = []
    for i, a in enumerate(texts):
        right = max(x for x, _ in a["quad"])
        for b in texts[i + 1 :]:
            if min(x for x, _ in b["quad"]) > right:
                break
            depth = _depth(a["quad"], b["quad"])
            if depth > TOUCH_MM:
                found.append(f"{sheet['id']}: {_told(a)} on {_told(b)}, {depth:.2f} mm deep")
    return found


def _depth(a: list[list[float]], b: list[list[float]]) -> float:
    """Return how deep two convex boxes lie in each other, along the direction where it is least."""
    least = float("inf")
    for box in (a, b):
        for (x0, y0), (x1, y1) in ((box[0], box[1]), (box[1], box[2])):
            length = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 or 1.0
            nx, ny = (y0 - y1) / length, (x1 - x0) / length
            in_a = [x * nx + y * ny for x, y in a]
            in_b = [x * nx + y * ny for x, y in b]
            least = min(least, min(max(in_a), max(in_b)) - max(min(in_a), min(in_b)))
    return least


def outside_frame(sheet: Seen) -> list[str]:
    """Return texts that leave the frame; the letters of the border zones stand between frame and trim."""
    left, top, right, bottom = sheet["frame"]
    found = []
    for text in sheet["texts"]:
        room = (
            (0.0, 0.0, sheet["width"], sheet["height"])
            if "border" in text["inside"]
            else (left, top, right, bottom)
        )
        if any(not (room[0] < x < room[2] and room[1] < y < room[3]) for x, y in text["quad"]):
            found.append(f"{sheet['id']}: {_told(text)} leaves the frame")
    return found


def too_small(sheet: Seen, floor_mm: float) -> list[str]:
    """Return texts whose capitals are lower than half the floor height on the page shown at half size."""
    return [
        f"{sheet['id']}: {_told(t)} is {t['shown_mm']:.3f} mm high at half size"
        for t in sheet["texts"]
        if t["shown_mm"] < floor_mm / 2 * 0.98
    ]


def on_heavy_lines(sheet: Seen) -> list[str]:
    """Return texts with pixels of heavy lines or dark areas within their box."""
    return [
        f"{sheet['id']}: {_told(t)} lies on a heavy line, {t['heavy']} pixels"
        for t in sheet["texts"]
        if t["heavy"] > TOUCH_PX
    ]


def crossing_leaders(sheet: Seen) -> list[str]:
    """Return each pair of leaders that cross at a place inside both."""
    runs = [(leader["object"], a, b) for leader in sheet["leaders"] for a, b in pairwise(leader["points"])]
    return [
        f"{sheet['id']}: the leaders of {one} and {two} cross near ({a[0]:.1f}, {a[1]:.1f})"
        for i, (one, a, b) in enumerate(runs)
        for two, c, d in runs[i + 1 :]
        if _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0
    ]


def _turn(p: list[float], q: list[float], r: list[float]) -> float:
    return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])


def fans(sheet: Seen) -> list[str]:
    """Return leaders that fan out: four or more that start together, less than 30 degrees apart."""
    found: set[str] = set()
    led = [
        (leader["object"], leader["points"])
        for leader in sheet["leaders"]
        if math.dist(*leader["points"][:2]) > FAN_MM
    ]
    for _, points in led:
        spokes = sorted(
            (math.degrees(math.atan2(q[1][1] - q[0][1], q[1][0] - q[0][0])) % 360, name)
            for name, q in led
            if math.dist(points[0], q[0]) <= FAN_MM
        )
        run: list[str] = []
        last = -math.inf
        for angle, name in (*spokes, *((angle + 360, name) for angle, name in spokes)):
            run = [*run, name] if angle - last < FAN_DEG else [name]
            last = angle
            if len(set(run)) >= FAN_LEADERS:
                found.add(f"{sheet['id']}: leaders of {', '.join(sorted(set(run)))} fan out")
    return sorted(found)


def is_plan(sheet: Seen) -> bool:
    """Return whether a sheet shows the plan or part of it."""
    return any(c in PLANS for c in sheet["classes"])


def legend_faults(sheets: list[Seen]) -> list[str]:
    """Return symbols of the set without an entry in its legend, and entries without use."""
    listed, used = set(), set()
    for sheet in sheets:
        for symbol in sheet["symbols"]:
            (listed if "legend" in symbol["inside"] else used).add(symbol["kind"])
    return [f"symbol {k} has no legend entry" for k in sorted(used - listed)] + [
        f"legend entry {k} is not used" for k in sorted(listed - used)
    ]


def unlabelled(sheets: list[Seen], lettering_mm: float) -> list[str]:
    """Return names of schedule rows that no label on a plan sheet shows at the set's lettering height."""
    lettered: set[str] = set()
    for text in _plan_labels(sheets):
        if text["shown_mm"] >= lettering_mm / 2 * 0.98:
            lettered |= set(re.findall(r"[\w.-]+", text["words"]))
    wanted = {name for sheet in sheets if sheet["id"].startswith("LI6") for name in sheet["rows"]}
    return sorted(name for name in wanted if name not in lettered)


def _plan_labels(sheets: list[Seen]) -> Iterator[Seen]:
    for sheet in sheets:
        if is_plan(sheet):
            yield from (t for t in sheet["texts"] if "label" in t["inside"])


def _told(text: Seen) -> str:
    x, y = text["quad"][0]
    of = f" of {text['object']}" if text["object"] else ""
    return f"`{text['words'][:40]}`{of} at ({x:.1f}, {y:.1f})"
