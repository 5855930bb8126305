"""The page driven in the distribution's own Chromium, from a `file:` address, as a reviewer uses it.

Source of every expectation: the project's own contract for the packet; accessibility from WCAG 2.2, levels A
and AA, as the rules of axe-core test them (with its best practices).
"""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from plangen.cli.main import main
from plangen.shipped.folders import shipped_text
from tests.packet.watched import watched
from tests.programs import BROWSER, PDF_READER, needs_browser, needs_pdf_reader

playwright = pytest.importorskip("playwright.sync_api")
pytestmark = needs_browser


@pytest.fixture(scope="module")
def packet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The packet of the tutorial's small design, quick to open; each example is driven with `--long`."""
    folder = tmp_path_factory.mktemp("driven")
    tutorial = shipped_text("site", "handbook", "tutorial.md")
    *_, whole = re.findall(r"^```plan complete\n(.*?)^```$", tutorial, re.MULTILINE | re.DOTALL)
    (folder / "design.plan").write_text(whole, encoding="utf-8")
    assert main(["build", str(folder / "design.plan"), "--out", str(folder / "packet")]) == 0
    return folder / "packet"


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as started:
        running = started.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        yield running
        running.close()


@pytest.fixture
def page(browser, packet) -> Iterator[Any]:
    with watched(browser, packet) as opened:
        yield opened


def shown(page) -> set[str]:
    return set(page.eval_on_selector_all("article.finding:not([hidden])", "list => list.map((e) => e.id)"))


def in_view(page, selector: str) -> bool:
    return page.eval_on_selector(
        selector,
        "e => { const r = e.getBoundingClientRect();"
        " return r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth; }",
    )


def test_without_script_everything_is_drawn(browser, packet):
    """Every part that waits for a script is simply there where script is off, at the width of a telephone."""
    plain = (packet / "index.html").read_text(encoding="utf-8")
    context = browser.new_context(viewport={"width": 360, "height": 800}, java_script_enabled=False)
    off = context.new_page()
    off.goto((packet / "index.html").as_uri())
    for selector, mark in (("article.finding", '<article class="finding'), ("svg.sheet", 'class="sheet"'),
                           ("table", "<table"), ("figure", "<figure")):  # fmt: skip
        assert off.locator(selector).count() == plain.count(mark) > 0, selector
    for drawing in off.locator("svg.sheet").all():
        box = drawing.bounding_box()
        assert box and box["width"] > 300 and box["height"] > 150
    told = off.locator(".rest").first.evaluate("e => getComputedStyle(e, '::before').display")
    assert told == "none", "nothing is said to be missing"
    assert off.locator("#filter").is_hidden() and off.locator("#comment-form").is_hidden()
    context.close()


def test_long_parts_are_put_in_when_they_are_asked_for(page):
    """The packet opens at once because long parts wait as text: in the end all of them are in the page."""
    waiting = page.locator(".rest > noscript")
    playwright.expect(waiting).to_have_count(0, timeout=60_000)
    plain = page.evaluate("document.documentElement.outerHTML")
    assert plain.count('class="sheet"') == page.locator("svg.sheet").count() > 0


def test_a_finding_leads_to_its_object_on_the_drawing(page):
    article = page.locator("article.finding[data-object=BF1]").first
    article.locator(".where a").first.click()
    place = page.evaluate("decodeURIComponent(location.hash.slice(1))")
    page.wait_for_selector(f"[id='{place}']", state="attached")  # the drawing may still wait as text
    assert page.evaluate("name => document.getElementById(name).dataset.object", place) == "BF1"
    assert in_view(page, f"[id='{place}']")
    outline = page.eval_on_selector(f"[id='{place}']", "e => getComputedStyle(e).outlineStyle")
    assert outline == "solid"
    wide = page.eval_on_selector(f"[id='{place}']", "e => e.closest('svg').style.width")
    assert wide == "300%", "enlarged"


def test_an_object_of_the_drawing_leads_to_its_figures_and_findings(page):
    page.locator("#sheet-LI101 svg a[href='#object-BF1']").first.dispatch_event("click")
    assert page.evaluate("location.hash") == "#object-BF1"
    row = page.locator("tr#object-BF1")
    assert in_view(page, "tr#object-BF1")
    assert (
        "28 in above grade" in row.inner_text()
        and "Vacuum breaker above the highest outlet" in row.inner_text()
    )
    assert page.locator("#sheet-LI101 .chosen[data-object=BF1]").count() > 0


@pytest.mark.long
def test_the_filter_is_kept_in_the_address_and_read_from_it(page, packet):
    page.locator("#filter-object").select_option("BF1")
    page.locator("#filter input[value=needs_person]").uncheck()
    address = page.evaluate("location.hash")
    assert "object=BF1" in address and "status=" in address
    kept = shown(page)
    of_bf1 = page.eval_on_selector_all(
        "article.finding", "list => list.filter((e) => e.dataset.object === 'BF1').map((e) => e.id)"
    )
    assert kept and kept < set(of_bf1)
    page.goto("about:blank")
    page.goto((packet / "index.html").as_uri() + address)
    assert shown(page) == kept and in_view(page, "#code-check-head")
    page.locator("#filter-clear").click()
    assert len(shown(page)) == page.locator("article.finding").count()
    assert page.evaluate("location.hash") == "#code-check"


@pytest.mark.long
def test_filter_by_rule_and_words(page):
    page.locator("#filter-rule").select_option("assembly-tested")
    assert len(shown(page)) == 1
    page.locator("#filter-clear").click()
    page.locator("#filter-words").fill("no such words anywhere")
    assert shown(page) == set()
    assert page.locator("#filter-count").inner_text().startswith("0 of")


@pytest.mark.long
def test_an_object_name_shows_only_its_findings(page):
    page.locator("tr#object-V1 > th a").click()
    playwright.expect(page.locator("#filter-object")).to_have_value("V1")
    rules = page.eval_on_selector_all("article.finding:not([hidden])", "l => l.map((e) => e.dataset.object)")
    assert set(rules) == {"V1"}


def test_comments_are_kept_in_a_file_and_numbered_once(page, packet, tmp_path):
    finding = page.locator("article.finding[data-object=BF1]").first
    finding.get_by_role("button", name="Comment on").click()
    assert page.locator("#c-object").input_value() == "BF1"
    assert page.locator("#c-sheet").input_value() and page.locator("#c-zone").input_value()
    hostile = '<img src=x onerror=alert(1)> "quoted" \u202eright to left'
    for text in (hostile, "second", "third"):
        page.locator("#c-text").fill(text)
        page.get_by_role("button", name="Add comment").click()
    page.get_by_role("button", name="Remove comment 1.03").click()
    page.locator("#c-text").fill("fourth")
    page.get_by_role("button", name="Add comment").click()
    assert "NOT SAVED" in page.locator("#c-state").inner_text()
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Save comments to a file").click()
    path = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(path)
    whole = json.loads(path.read_text(encoding="utf-8"))
    assert [c["number"] for c in whole["comments"]] == ["1.01", "1.02", "1.04"]
    assert whole["comments"][0]["text"] == hostile and whole["comments"][0]["status"] == "open"
    assert whole["design"] == "design.plan"
    page.goto("about:blank")
    page.goto((packet / "index.html").as_uri())
    page.locator("#c-load").set_input_files(path)
    playwright.expect(page.locator("#comments tbody tr")).to_have_count(3)
    assert hostile in page.locator("#comments tbody").inner_text()
    assert page.locator("#comments img").count() == 0
    (tmp_path / "other.json").write_text("[]", encoding="utf-8")
    page.locator("#c-load").set_input_files(tmp_path / "other.json")
    playwright.expect(page.locator("#c-state")).to_contain_text("no comments")
    assert page.locator("#comments tbody tr").count() == 3


def test_the_keyboard_is_enough(page):
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    assert page.evaluate("location.hash") == "#verdict"
    paper = page.locator("#sheet-LI101 .paper")
    paper.focus()
    page.keyboard.press("+")
    assert page.locator("#sheet-LI101 svg.sheet").evaluate("e => e.style.width") == "150%"
    page.keyboard.press("0")
    assert page.locator("#sheet-LI101 svg.sheet").evaluate("e => e.style.width") == ""
    page.locator("#filter input[value=meets]").focus()
    page.keyboard.press("Space")
    assert not page.locator("#filter input[value=meets]").is_checked()


def broken_rules(page, options: dict[str, Any]) -> list[str]:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(page, options={"resultTypes": ["violations"], **options}).response["violations"]
    return [f"{v['id']}: {v['help']}: {[n['target'] for n in v['nodes'][:3]]}" for v in found]


# Every section is there, and of the parts that wait as text (findings and drawings, from two templates) one
# each is put in. The page with all of them takes minutes: `test_each_example.py`, with `--long`.
WAIT = (
    "window.requestIdleCallback = () => 0;"
    " window.IntersectionObserver = class { observe() {} unobserve() {} };"
)


@pytest.fixture
def still(browser, packet) -> Iterator[Any]:
    """The page with nothing put in but what a link leads to."""
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    context.add_init_script(WAIT)
    opened = context.new_page()
    opened.goto((packet / "index.html").as_uri())
    text = (packet / "index.html").read_text(encoding="utf-8")
    folded = re.search(r'class="finding finding-meets" id="([^"]+)"', text)
    drawn = re.search(r'id="(LI101-[^"]+)"', text)
    assert folded and drawn
    for place in (folded[1], drawn[1]):
        opened.evaluate("name => { location.hash = name; }", place)
        opened.wait_for_selector(f"[id='{place}']", state="attached")
    yield opened
    context.close()


FEW = """() => {
  for (const of of document.querySelectorAll('tbody, ul, ol, svg g')) {
    const met = {};
    for (const each of [...of.children]) {
      const kind = each.tagName + '.' + each.getAttribute('class') + '.' + (each.dataset.status || '');
      met[kind] = (met[kind] || 0) + 1;
      if (met[kind] > 3) each.remove();
    }
  }
}"""


@needs_pdf_reader
def test_the_first_printed_pages_bear_the_cautions(page, tmp_path):
    """The whole of it is printed with `--long`."""
    page.pdf(path=tmp_path / "printed.pdf", format="Letter", page_ranges="1-5")
    run = [str(PDF_READER), str(tmp_path / "printed.pdf"), "-"]
    pages = subprocess.run(run, capture_output=True, check=True).stdout.decode().split("\f")[:-1]
    assert len(pages) == 5
    assert [n for n, printed in enumerate(pages, 1) if "Not an approval." not in printed] == []


def test_no_rule_of_accessibility_is_broken(still):
    assert still.locator("article.finding-meets").count() and still.locator("svg.sheet").count()
    contrast = "color-contrast"
    rules = {"target-size": {"enabled": True}, contrast: {"enabled": False}}
    assert broken_rules(still, {"rules": rules}) == []
    # Contrast asks what lies under every word, four fifths of the time of all rules: rows of a table, items
    # of a list and letters of a drawing are coloured by kind, so the first few of each stand for the others.
    still.evaluate(FEW)
    assert broken_rules(still, {"runOnly": [contrast]}) == []


@pytest.mark.long
def test_no_rule_of_accessibility_is_broken_on_a_phone(still):
    """Rules that hang on the width of the window: targets, regions that scroll, and what is hidden."""
    still.set_viewport_size({"width": 360, "height": 800})
    names = ["target-size", "scrollable-region-focusable", "meta-viewport", "label", "region"]
    assert broken_rules(still, {"runOnly": names}) == []
