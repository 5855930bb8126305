"""The page driven in the distribution's own Chromium, from a `file:` address, as a reviewer uses it.

It is that of a small design, quick to open; `test_each_example.py` drives each example whole, with `--long`.
Source of every expectation: the project's own contract for the packet; accessibility from WCAG 2.2, levels A
and AA, as the rules of axe-core test them (with its best practices); reflow at 320 CSS pixels from its
success criterion 1.4.10.
"""

from __future__ import annotations

import json
import re
import subprocess
from collections.abc import Iterator
from typing import Any

import pytest

from tests.packet.watched import broken_rules, plain, rules_broken_on_a_phone, too_wide, watched
from tests.programs import BROWSER, PDF_READER, needs_browser, needs_pdf_reader

playwright = pytest.importorskip("playwright.sync_api")
pytestmark = needs_browser


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with playwright.sync_playwright() as started:
        running = started.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        yield running
        running.close()


@pytest.fixture(scope="module")
def window(browser, small_packet) -> Iterator[Any]:
    with watched(browser, small_packet, still=True) as opened:
        yield opened


@pytest.fixture
def page(window, small_packet) -> Any:
    """The page opened anew, with nothing put in but what is asked for."""
    window.goto("about:blank")
    window.set_viewport_size({"width": 1280, "height": 900})
    window.goto((small_packet / "index.html").as_uri())
    return window


def shown(page) -> set[str]:
    return set(page.eval_on_selector_all("article.finding:not([hidden])", "list => list.map((e) => e.id)"))


def in_view(page, selector: str) -> bool:
    return page.eval_on_selector(
        selector,
        "e => { const r = e.getBoundingClientRect();"
        " return r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth; }",
    )


def test_without_script_everything_is_drawn(browser, small_packet):
    """Every part that waits for a script is simply there where script is off, at the width of a telephone."""
    text = (small_packet / "index.html").read_text(encoding="utf-8")
    with plain(browser, small_packet, width=360) as off:
        for selector, mark in (("article.finding", '<article class="finding'), ("svg.sheet", 'class="sheet"'),
                               ("table", "<table"), ("figure", "<figure")):  # fmt: skip
            assert off.locator(selector).count() == text.count(mark) > 0, selector
        sizes = off.eval_on_selector_all(
            "svg.sheet", "l => l.map((e) => e.getBoundingClientRect()).map((r) => [r.width, r.height])"
        )
        assert all(wide > 300 and high > 150 for wide, high in sizes)
        told = off.locator(".rest").first.evaluate("e => getComputedStyle(e, '::before').display")
        assert told == "none", "nothing is said to be missing"
        assert off.locator("#filter").is_hidden() and off.locator("#comment-form").is_hidden()


@needs_pdf_reader
def test_long_parts_are_put_in_and_what_is_there_fits_and_prints(browser, small_packet, tmp_path):
    """The packet opens at once because long parts wait as text: in the end all of them are in the page."""
    with watched(browser, small_packet) as page:
        playwright.expect(page.locator(".rest > noscript")).to_have_count(0, timeout=120_000)
        text = page.evaluate("document.documentElement.outerHTML")
        assert text.count('class="sheet"') == page.locator("svg.sheet").count() > 0
        assert re.search(r"(\d+) of \1 findings shown", text)
        assert "Larger: Drawing of sheet" in text and "0 comments" in text
        assert too_wide(page, 320) == []
        # The first sections; the whole of it is printed with `--long`.
        page.evaluate("document.querySelectorAll('section:nth-of-type(n + 6)').forEach((s) => s.remove())")
        page.pdf(path=tmp_path / "printed.pdf", format="Letter", page_ranges="1-5")
    run = [str(PDF_READER), str(tmp_path / "printed.pdf"), "-"]
    pages = subprocess.run(run, capture_output=True, check=True).stdout.decode().split("\f")[:-1]
    assert len(pages) == 5
    assert [n for n, printed in enumerate(pages, 1) if "Not an approval." not in printed] == []


@needs_pdf_reader
@pytest.mark.long
def test_what_is_left_out_of_a_print_says_so_and_is_printed_where_it_is_ticked(page, tmp_path):
    """A choice on the page, with or without script: nothing is lost that is not said to stand elsewhere."""

    def printed() -> str:
        page.pdf(path=tmp_path / "printed.pdf", format="A4")
        run = [str(PDF_READER), str(tmp_path / "printed.pdf"), "-"]
        return subprocess.run(run, capture_output=True, check=True).stdout.decode()

    parts = {"sheets": "RESERVED FOR AGENCY", "objects": "Objects of the design",
             "budgets": "Pressure budget of case", "values": "Values that reached a result"}  # fmt: skip
    short = printed()
    assert short.count("Left out of this print") == 3, "the one load case of this design is printed whole"
    assert all(words not in short for part, words in parts.items() if part != "budgets")
    for part in parts:
        page.locator(f"#print-{part}").check()
    whole = printed()
    assert "Left out of this print" not in whole
    assert all(words in whole for words in parts.values())
    assert whole.count("RESERVED FOR AGENCY APPROVAL") == page.locator("figure.drawing").count()
    page.locator("#print-work").check()
    work = printed()
    assert "Sequence of work" in work and "Assembly test report" in work
    assert "Code check" not in work and "Owner handover" not in work
    assert all("Not an approval." in each for text in (short, whole, work) for each in text.split("\f")[:-1])


@pytest.mark.long
def test_where_script_is_blocked_the_page_says_what_is_not_shown(browser, small_packet, tmp_path):
    """A viewer's policy may block script and not count as script off: long parts are told of, not lost."""
    text = (small_packet / "index.html").read_text(encoding="utf-8")
    (tmp_path / "index.html").write_text(
        text.replace("script-src 'unsafe-inline'", "script-src 'none'"), encoding="utf-8"
    )
    page = browser.new_page()
    page.goto((tmp_path / "index.html").as_uri())
    assert page.locator("#filter").is_hidden()
    told = page.locator(".rest").evaluate_all("l => l.map((e) => getComputedStyle(e, '::before').content)")
    assert told and all(t.startswith('"Not shown: ') and "plan-set.pdf" in t for t in told)
    page.close()


def test_on_a_telephone_a_table_of_words_is_read_downwards(page):
    """WCAG 2.2, success criterion 1.4.10: each sentence in the window, under its column."""
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    page.set_viewport_size({"width": 360, "height": 800})
    beside = page.eval_on_selector_all(
        "table.stack",
        "l => l.filter((t) => t.offsetParent && t.scrollWidth > t.parentElement.clientWidth).length",
    )
    assert page.locator("table.stack").count() > 5 and beside == 0
    cell = page.locator("#objects table.stack td:nth-child(3)").first
    assert cell.evaluate("e => getComputedStyle(e, '::before').content").replace('" "', "") == '"Drawn on: "'


def test_where_the_reader_s_own_colours_rule_a_drawing_keeps_its_paper(page):
    """CSS Color Adjustment Level 1, section 3: black lines must not stand on a reader's black ground."""
    page.emulate_media(forced_colors="active", color_scheme="dark")
    seen = page.evaluate(
        "['body', '.paper', '.plot svg']"
        ".map((s) => getComputedStyle(document.querySelector(s)).backgroundColor)"
    )
    page.emulate_media(forced_colors="none", color_scheme="light")
    assert seen == ["rgb(0, 0, 0)", "rgb(255, 255, 255)", "rgb(255, 255, 255)"]


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
    page.evaluate("location.hash = 'sheet-LI101'")
    page.locator("#sheet-LI101 .paper").press("0")  # what is looked at is put in
    page.locator("#sheet-LI101 svg a[href='#object-BF1']").first.dispatch_event("click")
    assert page.evaluate("location.hash") == "#object-BF1"
    row = page.locator("tr#object-BF1")
    assert in_view(page, "tr#object-BF1")
    words = row.inner_text()
    assert "28 in above grade" in words and "Vacuum breaker above the highest outlet" in words
    assert page.locator("#sheet-LI101 .chosen[data-object=BF1]").count() > 0


@pytest.mark.long
def test_the_filter_is_kept_in_the_address_and_read_from_it(page, small_packet):
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
    page.goto((small_packet / "index.html").as_uri() + address)
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


@pytest.mark.long
def test_a_link_to_a_folded_finding_opens_it(page):
    text = page.content()
    folded = re.search(r'class="finding finding-meets" id="([^"]+)"', text)
    assert folded
    page.evaluate("name => { location.hash = name; }", folded[1])
    page.wait_for_selector(f"[id='{folded[1]}']", state="attached")
    assert page.locator(f"[id='{folded[1]}']").evaluate("e => e.closest('details.group').open")


def test_comments_are_kept_in_a_file_and_numbered_once(page, small_packet, tmp_path):
    finding = page.locator("article.finding[data-object=BF1]").first
    finding.locator("button[aria-label^='Comment on']").click()
    assert page.locator("#c-object").input_value() == "BF1"
    assert page.locator("#c-sheet").input_value() and page.locator("#c-zone").input_value()
    hostile = '<img src=x onerror=alert(1)> "quoted" \u202eright to left'
    text, add = page.locator("#c-text"), page.locator("#comment-form button[type=submit]")
    for words in (hostile, "second", "third"):
        text.fill(words)
        add.click()
    page.locator("button[aria-label='Remove comment 1.03']").click()
    text.fill("fourth")
    add.click()
    assert "NOT SAVED" in page.locator("#c-state").inner_text()
    with page.expect_download() as waiting:
        page.locator("#c-save").click()
    path = tmp_path / waiting.value.suggested_filename
    waiting.value.save_as(path)
    whole = json.loads(path.read_text(encoding="utf-8"))
    assert [c["number"] for c in whole["comments"]] == ["1.01", "1.02", "1.04"]
    assert whole["comments"][0]["text"] == hostile and whole["comments"][0]["status"] == "open"
    assert whole["design"] == "design.plan"
    page.goto("about:blank")
    page.goto((small_packet / "index.html").as_uri())
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


@pytest.fixture
def one_of_each(page, small_packet) -> Any:
    """Every section; of the parts that wait as text, from two templates, findings and a drawing are put in.

    The page with all of them takes a minute: `test_each_example.py`, with `--long`.
    """
    text = (small_packet / "index.html").read_text(encoding="utf-8")
    folded = re.search(r'class="finding finding-meets" id="([^"]+)"', text)
    drawn = re.search(r'id="(LI101-[^"]+)"', text)
    assert folded and drawn
    for place in (folded[1], drawn[1]):
        page.evaluate("name => { location.hash = name; }", place)
        page.wait_for_selector(f"[id='{place}']", state="attached")
    return page


def test_no_rule_of_accessibility_is_broken(one_of_each):
    assert one_of_each.locator("article.finding-meets").count() and one_of_each.locator("svg.sheet").count()
    assert broken_rules(one_of_each) == []


@pytest.mark.long
def test_no_rule_of_accessibility_is_broken_on_a_phone(one_of_each):
    assert rules_broken_on_a_phone(one_of_each) == []
