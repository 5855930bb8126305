"""A page opened in the browser and watched: it may ask no server for anything and complain of nothing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any


@contextmanager
def watched(browser: Any, packet: Path) -> Iterator[Any]:
    """Yield the page of a packet, opened from disk; at the end nothing may have been asked or said."""
    context = browser.new_context(viewport={"width": 1280, "height": 900}, accept_downloads=True)
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
