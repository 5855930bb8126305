"""A page opened in the browser and watched: it may ask no server for anything and complain of nothing.

Also what is asked of any page opened so: is everything put in, does it fit, do rules of accessibility hold.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest

# Nothing is put in by itself: a part waits until it is led to, searched or printed.
_STILL = (
    "window.requestIdleCallback = () => 0;"
    " window.IntersectionObserver = class { observe() {} unobserve() {} };"
)
# Colours hang on the element, its class and fill: of neighbours that look alike two stand for the others.
_THIN = """() => {
  const look = (e) => [e.tagName, e.getAttribute('class'), e.getAttribute('fill'), e.hidden,
    ...new Set(Array.from(e.children, look))].join('(');
  const thin = (box) => {
    const met = {};
    for (const each of Array.from(box.children)) {
      const kind = look(each);
      met[kind] = (met[kind] || 0) + 1;
      if (met[kind] > 2) each.remove(); else thin(each);
    }
  };
  thin(document.body);
}"""
# What lies under every word, and how far every target is from the next: nearly all the time of all rules.
_COLOURS, _TARGETS = ("color-contrast", "link-in-text-block"), ("target-size",)
_TOO_WIDE = """() => {
  const width = document.documentElement.clientWidth, wide = [];
  if (document.documentElement.scrollWidth > width) wide.push('the page');
  for (const e of document.querySelectorAll('section > *, p, h2, h3, dl, aside, header, footer'))
    if (!e.closest('.wide, .paper, details') && e.getBoundingClientRect().right > width + 1)
      wide.push(e.tagName + ' ' + e.className + ' ' + e.textContent.slice(0, 30));
  return wide.slice(0, 5);
}"""


@contextmanager
def watched(browser: Any, packet: Path, still: bool = False) -> Iterator[Any]:
    """Yield the page of a packet, opened from disk; at the end nothing may have been asked or said."""
    context = browser.new_context(viewport={"width": 1280, "height": 900}, accept_downloads=True)
    if still:
        context.add_init_script(_STILL)
    opened = context.new_page()
    asked: list[str] = []
    said: list[str] = []
    opened.on("request", lambda request: asked.append(request.url))
    opened.on("console", lambda message: said.append(message.text))
    opened.on("pageerror", lambda fault: said.append(str(fault)))
    opened.goto((packet / "index.html").as_uri())
    yield opened
    context.close()
    assert all(url.startswith(("file:", "data:", "blob:")) for url in asked), asked
    assert [s for s in said if "beforeunload" not in s] == []


@contextmanager
def plain(browser: Any, packet: Path, width: int) -> Iterator[Any]:
    """Yield the page of a packet with script off."""
    context = browser.new_context(viewport={"width": width, "height": 800}, java_script_enabled=False)
    opened = context.new_page()
    opened.set_default_timeout(0)
    opened.goto((packet / "index.html").as_uri())
    yield opened
    context.close()


def put_in(page: Any) -> None:
    """Put in everything that waits."""
    page.evaluate("dispatchEvent(new Event('beforeprint'))")
    assert page.locator(".rest > noscript").count() == 0


def too_wide(page: Any, width: int) -> list[str]:
    """Return what is wider than a window of so many pixels; a box that scrolls by itself may be."""
    page.set_viewport_size({"width": width, "height": 800})
    found: list[str] = page.evaluate(_TOO_WIDE)
    return found


def broken_rules(page: Any, targets_of_all: bool = False) -> list[str]:
    """Return the rules of axe-core, levels A and AA and best practices, that the page breaks.

    For those that take nearly all the time the page is thinned, and stays so: colours, and unless
    `targets_of_all` the size of what can be pressed, which is the same for neighbours that look alike.
    """
    slow = _COLOURS if targets_of_all else (*_COLOURS, *_TARGETS)
    rules = {rule: {"enabled": False} for rule in slow}
    rules |= {rule: {"enabled": True} for rule in _TARGETS if targets_of_all}
    found = _violations(page, {"rules": rules})
    page.evaluate(_THIN)
    return found + _violations(page, {"runOnly": list(slow)})


def rules_broken_on_a_phone(page: Any) -> list[str]:
    """Return those that hang on the width of the window: targets, regions that scroll, what is hidden."""
    names = ["target-size", "scrollable-region-focusable", "meta-viewport", "label", "region"]
    page.set_viewport_size({"width": 360, "height": 800})
    return _violations(page, {"runOnly": names})


def _violations(page: Any, options: dict[str, Any]) -> list[str]:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(page, options={"resultTypes": ["violations"], **options}).response["violations"]
    return [f"{v['id']}: {v['help']}: {[n['target'] for n in v['nodes'][:3]]}" for v in found]
