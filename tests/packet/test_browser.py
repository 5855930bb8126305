"""The page in a real browser, opened from disk, with and without script, at desk and telephone width.

Source of every expectation: the project's own contract for the packet; reflow at 320 CSS pixels from
WCAG 2.2, success criterion 1.4.10.
"""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path

import pytest

from tests.programs import BROWSER, PDF_READER, needs_browser, needs_pdf_reader

pytestmark = [needs_browser, needs_pdf_reader]
PLAIN = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--enable-logging=stderr"]
OFFLINE = "--host-resolver-rules=MAP * ~NOTFOUND"


def opened(url: str, profile: Path, *more: str) -> tuple[str, str]:
    """Return the page's final markup and what the browser's console said."""
    done = subprocess.run(
        [str(BROWSER), *PLAIN, OFFLINE, f"--user-data-dir={profile}", *more, "--dump-dom", url],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    return done.stdout, "\n".join(line for line in done.stderr.splitlines() if "CONSOLE" in line)


def test_with_script_it_filters_and_complains_of_nothing(packet, tmp_path):
    dom, console = opened((packet / "index.html").as_uri(), tmp_path)
    assert console == ""
    assert re.search(r'<form class="filter" id="filter">', dom)
    assert re.search(r"(\d+) of \1 findings shown", dom)
    assert "Larger: Drawing of sheet" in dom
    assert '<form id="comment-form">' in dom and "0 comments" in dom


@pytest.mark.long
def test_where_script_is_blocked_the_page_says_what_is_not_shown(packet, tmp_path):
    """A viewer's policy may block script and not count as script off: long parts are told of, not lost."""
    plain = (packet / "index.html").read_text(encoding="utf-8")
    (tmp_path / "page.html").write_text(
        plain.replace("script-src 'unsafe-inline'", "script-src 'none'"), encoding="utf-8"
    )
    dom, _ = opened((tmp_path / "page.html").as_uri(), tmp_path / "profile")
    assert re.search(r'<form class="filter" id="filter" hidden', dom)
    assert '<html lang="en">' in dom, "the style tells by the missing class"
    told = re.search(r"html:not\(\.scripted\) \.rest::before \{ content: \"Not shown: ([^\"]+)", dom)
    assert told and "plan-set.pdf" in told[1]


@pytest.mark.long
def test_a_link_to_a_folded_finding_opens_it(packet, tmp_path):
    plain = (packet / "index.html").read_text(encoding="utf-8")
    folded = re.search(r'<article class="finding finding-meets" id="([^"]+)"', plain)
    assert folded
    dom, _ = opened((packet / "index.html").as_uri() + "#" + folded[1], tmp_path)
    before = dom[: dom.index(f'id="{folded[1]}"')]
    assert before[before.rindex('<details class="group"') :].startswith(
        '<details class="group" data-group="" open="">'
    )


@pytest.mark.parametrize(
    "width", [320, pytest.param(360, marks=pytest.mark.long), pytest.param(1300, marks=pytest.mark.long)]
)
def test_nothing_is_wider_than_the_window(packet, tmp_path, width):
    """A frame of that width asks its own page: only boxes that scroll by themselves may be wider."""
    page = (packet / "index.html").read_text(encoding="utf-8")
    probe = (
        "<script>addEventListener('load', () => {"
        " const d = document.documentElement; const wide = [];"
        " for (const e of document.querySelectorAll('section > *, p, h2, h3, dl, aside, header, footer'))"
        "  if (!e.closest('.wide, .paper, details') && e.getBoundingClientRect().right > d.clientWidth + 1)"
        "   wide.push(e.tagName + ' ' + e.className + ' ' + e.textContent.slice(0, 30));"
        " parent.postMessage(`${d.scrollWidth}/${d.clientWidth} ${wide.slice(0, 5).join(', ')}`, '*');"
        "});</script></body>"
    )
    (tmp_path / "page.html").write_text(page.replace("</body>", probe), encoding="utf-8")
    (tmp_path / "frame.html").write_text(
        f'<body><iframe src="page.html" style="width:{width}px;height:900px;border:0"></iframe>'
        "<script>addEventListener('message', (m) => { document.body.dataset.said = m.data; });</script>",
        encoding="utf-8",
    )
    dom, _ = opened((tmp_path / "frame.html").as_uri(), tmp_path / "profile", "--virtual-time-budget=5000")
    said = re.search(r'data-said="(\d+)/(\d+) ([^"]*)"', dom)
    assert said, dom[:500]
    assert int(said[1]) <= int(said[2]) and said[3] == ""


@pytest.mark.long
def test_it_prints_with_cautions_on_every_page(packet, tmp_path):
    out = tmp_path / "printed.pdf"
    subprocess.run(
        [
            str(BROWSER),
            *PLAIN,
            f"--user-data-dir={tmp_path / 'profile'}",
            "--no-pdf-header-footer",
            f"--print-to-pdf={out}",
            (packet / "index.html").as_uri(),
        ],
        capture_output=True,
        timeout=240,
        check=False,
    )
    text = subprocess.run([str(PDF_READER), str(out), "-"], capture_output=True, check=True).stdout.decode()
    pages = text.split("\f")[:-1]
    assert len(pages) > 10
    lacking = [n for n, page in enumerate(pages, 1) if "Not an approval." not in page]
    assert lacking == []
    assert os.path.getsize(out) > 10_000
