"""The page says once what many findings wait for, with a link to each; script off, all is there.

Oracle: `report.json` of the same packet, which holds every finding one by one.
"""

from __future__ import annotations

import html
import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from plangen.checking.open_causes import MANY
from plangen.cli.main import main
from plangen.packet.anchors import cause_anchor, finding_anchor
from plangen.shipped.folders import shipped_text
from tests.conftest import undrawn
from tests.programs import needs_browser

LOWEST = re.compile(r",\s*lowest \d[^,\n]*")


@pytest.fixture(scope="module")
def one_reading(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the folder of the packet of the tutorial's design with one static reading and no more."""
    tutorial = shipped_text("site", "handbook", "tutorial.md")
    *_, whole = re.findall(r"^```plan complete\n(.*?)^```$", tutorial, re.MULTILINE | re.DOTALL)
    text, count = LOWEST.subn("", whole)
    assert count == 1
    folder = tmp_path_factory.mktemp("reading")
    (folder / "design.plan").write_text(text, encoding="utf-8")
    with undrawn():
        main(["build", str(folder / "design.plan"), "--out", str(folder / "out")])
    return folder / "out"


@pytest.fixture(scope="module")
def page(one_reading: Path) -> str:
    return html.unescape((one_reading / "index.html").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def waiting(one_reading: Path) -> list[dict[str, Any]]:
    """Return the findings of the report that lack what most lack."""
    findings = json.loads((one_reading / "report.json").read_text(encoding="utf-8"))["findings"]
    lacking = [f for f in findings if f["status"] == "not_known"]
    (missing, count), *_ = Counter(tuple(f["missing"]) for f in lacking).most_common()
    assert count >= MANY and "lowest pressure of the year" in missing[0]
    return [f for f in lacking if tuple(f["missing"]) == missing]


def test_it_is_said_once_and_each_finding_is_led_to(page: str, waiting: list[dict[str, Any]]) -> None:
    anchor = cause_anchor(waiting[0]["id"])
    (told,) = re.findall(rf'<div class="waiting" id="{anchor}".*?</details></div>', page, re.DOTALL)
    above, _, inside = told.partition("<details")
    assert f"<strong>{len(waiting)} findings wait for this</strong>" in above
    assert "State `lowest` at W1" in above and "It belongs at" in above
    for finding in waiting:
        own = finding_anchor(finding["id"])
        assert above.count(f'href="#{own}"') == 1 and inside.count(f'id="{own}"') == 1
        assert page.count(f'id="{own}"') == 1


def test_among_what_must_be_acted_on_it_is_one_line(page: str, waiting: list[dict[str, Any]]) -> None:
    (acted_on,) = re.findall(r"<h3>What must be acted on</h3>\s*(<ul>.*?</ul>)", page, re.DOTALL)
    assert acted_on.count(f'href="#{cause_anchor(waiting[0]["id"])}"') == 1
    assert not any(f'href="#{finding_anchor(f["id"])}"' in acted_on for f in waiting)


@needs_browser
def test_its_findings_are_reached_by_address_and_without_script(
    one_reading: Path, waiting: list[dict[str, Any]]
) -> None:
    playwright = pytest.importorskip("playwright.sync_api")
    from tests.packet.watched import plain, watched
    from tests.programs import BROWSER

    own = finding_anchor(waiting[-1]["id"])
    with playwright.sync_playwright() as started:
        browser = started.chromium.launch(executable_path=BROWSER, args=["--no-sandbox"])
        with plain(browser, one_reading, width=360) as off:
            assert off.locator(f'[id="{own}"]').count() == 1
        with watched(browser, one_reading, still=True) as page:
            page.evaluate(f"location.hash = '{own}'")
            page.wait_for_function(f"document.getElementById('{own}')?.checkVisibility()")
            page.evaluate("location.hash = 'code-check?status=meets'")
            page.wait_for_function("document.querySelector('div.waiting').hidden")
            page.evaluate(f"location.hash = '{own}'")
            page.wait_for_function(f"document.getElementById('{own}')?.checkVisibility()")
        browser.close()
