"""The packet of each example, whole, in the distribution's own Chromium; how fast that of 300 heads opens.

Source of every expectation: the project's own contract for the packet; accessibility from WCAG 2.2, levels A
and AA, as the rules of axe-core test them. Takes minutes; `test_driven.py` is the sample
that always runs.
"""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from plangen.cli.main import main
from plangen.packet.checklist_items import DRAWING, PACKET
from tests.benchmarks.make_design import design_text
from tests.conftest import EXAMPLES
from tests.packet.watched import broken_rules, plain, put_in, too_wide, watched
from tests.programs import BROWSER, PDF_READER, needs_browser, needs_pdf_reader

playwright = pytest.importorskip("playwright.sync_api")
pytestmark = [pytest.mark.long, needs_browser, needs_pdf_reader]
NAMES = sorted(folder.name for folder in EXAMPLES.iterdir() if (folder / "design.plan").is_file())
# Of the points of a page that CSS calls 96 to the inch; its margins are 14 mm.
PAPERS = {"Letter": (612, 792), "A4": (595.92, 842.88)}
MOST_PAGES = 100
OPENS_S = 2.0


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as started:
        running = started.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        yield running
        running.close()


@pytest.fixture(scope="module", params=NAMES)
def built(request, tmp_path_factory) -> Path:
    out = tmp_path_factory.mktemp(request.param) / "packet"
    assert main(["build", str(EXAMPLES / request.param / "design.plan"), "--out", str(out)]) in (0, 1)
    return out


@pytest.fixture(scope="module")
def window(browser, built) -> Iterator[Any]:
    with watched(browser, built) as opened:
        opened.set_default_timeout(0)
        yield opened


@pytest.fixture
def page(window, built) -> Any:
    """The page opened anew."""
    window.goto("about:blank")
    window.set_viewport_size({"width": 1280, "height": 900})
    window.goto((built / "index.html").as_uri())
    return window


def test_every_link_inside_the_page_meets_its_place(page):
    put_in(page)
    lost = page.evaluate(
        "Array.from(document.querySelectorAll('a[href^=\"#\"]')).map((a) => a.getAttribute('href').slice(1))"
        ".filter((name) => !name.includes('?') && !document.getElementById(decodeURIComponent(name)))"
    )
    assert lost == []


def test_findings_lead_to_drawings_and_are_filtered(page, built):
    findings = json.loads((built / "report.json").read_text(encoding="utf-8"))["findings"]
    drawn = next(f for f in findings if f["drawn_on"] and f["subject"]["name"])
    page.locator("#filter-object").select_option(drawn["subject"]["name"])
    shown = page.locator("article.finding:not([hidden])")
    assert 0 < shown.count() == sum(f["subject"]["name"] == drawn["subject"]["name"] for f in findings)
    assert "object=" in page.evaluate("location.hash")
    page.locator("#filter-clear").click()
    assert page.locator("article.finding:not([hidden])").count() == len(findings)
    link = page.locator("article.finding .where a").first
    link.evaluate("a => a.click()")
    place = page.evaluate("decodeURIComponent(location.hash.slice(1))")
    assert page.locator(f"[id='{place}']").evaluate("e => !!e.closest('.drawing')")


def test_every_item_of_the_checklist_is_located_or_not_provided(page):
    """Source of the items: the ledger of submittal checklists; each is shown or said not to be."""
    rows = page.locator("#checklist tr[id^=item-]")
    assert rows.count() == len(DRAWING) + len(PACKET)
    for row in rows.all():
        links = row.locator("td a").evaluate_all("list => list.map((a) => a.getAttribute('href').slice(1))")
        told = row.locator("td strong").all_inner_texts()
        assert links or told in (["not provided"], ["none in the design"]), row.inner_text()
        assert all(page.evaluate("name => !!document.getElementById(name)", name) for name in links)


def test_the_keyboard_leads_through_and_shows_where_it_is(page):
    """WCAG 2.2, success criteria 2.1.1, 2.4.7 and 2.4.11: reached in order, outlined, and not hidden."""
    stops = []
    for _ in range(60):
        page.keyboard.press("Tab")
        stops.append(
            page.evaluate(
                "() => { const e = document.activeElement, s = getComputedStyle(e);"
                " const r = e.getBoundingClientRect();"
                " return [r.width > 0 && r.bottom > 0 && r.top < innerHeight, s.outlineStyle, e.tagName,"
                " r.top + scrollY]; }"
            )
        )
    assert all(seen and outline != "none" for seen, outline, _, _ in stops), stops
    assert {"A", "DIV"} <= {tag for _, _, tag, _ in stops}
    page.locator("details.group > summary").first.focus()
    page.keyboard.press("Enter")
    assert page.locator("details.group").first.evaluate("d => d.open && !!d.querySelector('article.finding')")


def test_comments_come_back_from_their_file(page, built, tmp_path):
    page.locator("article.finding button").first.evaluate("b => b.click()")
    assert page.locator("#c-finding").input_value().startswith("finding-")
    page.locator("#c-text").fill("<b>one</b>")
    page.get_by_role("button", name="Add comment").click()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save comments to a file").click()
    waiting.value.save_as(tmp_path / "comments.json")
    page.goto("about:blank")
    page.goto((built / "index.html").as_uri())
    page.locator("#c-load").set_input_files(tmp_path / "comments.json")
    playwright.expect(page.locator("#comments tbody tr")).to_have_count(1)
    assert "<b>one</b>" in page.locator("#comments tbody").inner_text()


def test_nothing_is_wider_than_the_window(page):
    put_in(page)
    assert {width: too_wide(page, width) for width in (320, 360, 1280)} == {320: [], 360: [], 1280: []}


def test_without_script_everything_is_drawn(browser, built):
    text = (built / "index.html").read_text(encoding="utf-8")
    with plain(browser, built, width=360) as off:
        assert off.locator("article.finding").count() == text.count('<article class="finding')
        assert off.locator("svg.sheet").count() == text.count('class="sheet"') > 0
        assert (
            off.locator("table").count() == text.count("<table") and off.locator(".rest > noscript").count()
        )
        high = off.eval_on_selector_all("svg.sheet", "l => l.map((e) => e.getBoundingClientRect().height)")
        assert min(high) > 100


@pytest.mark.parametrize("paper", PAPERS)
def test_every_printed_page_holds_what_stands_on_it(page, tmp_path, paper):
    """On either paper no word stands outside the page, and every page carries the caution."""
    out = tmp_path / "printed.pdf"
    page.pdf(path=str(out), format=paper)
    boxes = subprocess.run([str(PDF_READER), "-bbox", str(out), "-"], capture_output=True, check=True)
    pages = boxes.stdout.decode().split("<page ")[1:]
    assert 10 < len(pages) <= MOST_PAGES
    for number, text in enumerate(pages, 1):
        size = dict(part.split("=") for part in text[: text.index(">")].split())
        wide, high = (float(size[k].strip('"')) for k in ("width", "height"))
        assert {round(wide), round(high)} == {round(x) for x in PAPERS[paper]}, number
        for line in text.splitlines()[1:]:
            if "<word" in line:
                box = dict(
                    part.split("=") for part in line[line.index("<word ") + 6 : line.index(">")].split()
                )
                right, low = float(box["xMax"].strip('"')), float(box["yMax"].strip('"'))
                assert right <= wide and low <= high, (number, line)
        assert ">approval.</word>" in text and ">Not</word>" in text, number


def test_no_rule_of_accessibility_is_broken_on_the_whole_page(page):
    put_in(page)
    assert broken_rules(page, targets_of_all=True) == []


def test_three_hundred_heads_open_at_once(browser, tmp_path):
    """Processor time of the page's own thread until it stands, so that a busy machine does not count."""
    (tmp_path / "big.plan").write_text(design_text(300), encoding="utf-8")
    assert main(["build", str(tmp_path / "big.plan"), "--out", str(tmp_path / "packet")]) in (0, 1)
    opened = browser.new_page()
    session = opened.context.new_cdp_session(opened)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})
    opened.goto((tmp_path / "packet" / "index.html").as_uri())
    told = {m["name"]: m["value"] for m in session.send("Performance.getMetrics")["metrics"]}
    assert opened.locator("section").count() > 15
    assert told["TaskDuration"] < OPENS_S
