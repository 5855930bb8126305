"""The handbook renders, has no dead link and fetches nothing; what it shows is what plangen does."""

from __future__ import annotations

import json
import posixpath
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from plangen.build.handbook import handbook_products, handbook_sources
from plangen.build.rule_book import read_rule_book
from plangen.cli.arguments import parser
from plangen.cli.main import main
from plangen.diagnostics.catalogue import catalogue
from plangen.packet.handbook import FIRST, handbook_html, plain_text

PRODUCTS = {p.path: p.data for p in handbook_products()}
PAGES = {path: data.decode("utf-8") for path, data in PRODUCTS.items() if path.endswith(".html")}


class Reader(HTMLParser):
    """Collects links, ids, headings and everything that a browser would fetch or run."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.ids: list[str] = []
        self.headings: list[int] = []
        self.fetched: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = {name: value or "" for name, value in attrs}
        if "id" in found:
            self.ids.append(found["id"])
        if tag == "a":
            self.links.append(found["href"])
        if re.fullmatch("h[1-6]", tag):
            self.headings.append(int(tag[1]))
        if tag in ("script", "img", "iframe", "object", "form") or "src" in found:
            self.fetched.append(tag)
        if tag == "link":
            self.fetched.append(found["href"])


READ = {path: Reader(html) for path, html in PAGES.items()}


@pytest.mark.parametrize("path", sorted(PAGES))
def test_a_page_has_no_dead_link_and_fetches_only_its_style(path: str) -> None:
    page = READ[path]
    for link in page.links:
        assert not re.match(r"[a-z]+:", link), f"{link} leaves the handbook"
        file, _, anchor = link.partition("#")
        there = posixpath.normpath(posixpath.join(posixpath.dirname(path), file)) if file else path
        assert there in PRODUCTS, link
        assert not anchor or anchor in READ[there].ids, link
    assert page.fetched == ["../" * path.count("/") + "page.css"]


@pytest.mark.parametrize("path", sorted(PAGES))
def test_headings_begin_with_one_and_skip_none_and_ids_are_unique(path: str) -> None:
    page = READ[path]
    assert page.headings[0] == 1 and page.headings.count(1) == 1
    assert all(after <= before + 1 for before, after in zip(page.headings, page.headings[1:], strict=False))
    assert len(page.ids) == len(set(page.ids))


def test_every_page_carries_the_caution_and_no_mark_of_markdown_is_left() -> None:
    for path, html in PAGES.items():
        assert "approves nothing" in html
        body = re.sub(r"<(pre|code)\b.*?</\1>", "", html[html.index("<main") :], flags=re.DOTALL)
        for mark in ("```", "{:", "](", "**", "| ---", "|---"):
            assert mark not in body, (path, mark)


def test_every_main_page_code_rule_and_the_schema_are_there() -> None:
    assert {f"{name}.html" for name in FIRST} <= set(PAGES)
    assert {f"codes/{code}.html" for code in catalogue()} <= set(PAGES)
    for pack in read_rule_book().packs:
        page = PAGES[f"packs/{pack.name}.html"]
        assert all(f'id="{rule.name}"' in page for rule in pack.rules)
    assert json.loads(PRODUCTS["report.schema.json"])
    missing = [p for p in handbook_sources() if p.startswith("handbook/") and p[9:-3] not in FIRST]
    assert missing == []


def test_the_same_bytes_come_twice() -> None:
    again = {p.path: p.data for p in handbook_products()}
    assert again == PRODUCTS


def test_a_pack_cannot_put_html_or_links_into_the_handbook() -> None:
    text = plain_text("<script>x</script> [a](http://x) *b* `c` | d")
    made = handbook_html({"handbook/index.md": f"# T\n\n{text}\n"}, (), "{{ body }}")["index.html"]
    assert "<script>" not in made and "<a" not in made and "<em>" not in made and "<code>" not in made


def test_the_command_writes_it_once_and_again_and_spares_what_is_not_its_own(tmp_path: Path) -> None:
    out = tmp_path / "book"
    assert main(["handbook", "--out", str(out)]) == 0
    assert main(["handbook", "--out", str(out)]) == 0
    assert {p.relative_to(out).as_posix() for p in out.rglob("*") if p.is_file()} == set(PRODUCTS)
    (out / "mine.txt").write_text("mine")
    assert main(["handbook", "--out", str(out)]) == 4
    assert (out / "mine.txt").read_text() == "mine"


def test_commands_that_the_handbook_names_exist() -> None:
    text = "\n".join(handbook_sources().values())
    used = set(re.findall(r"(?:`|^    )plangen ([a-z]+)", text, re.MULTILINE))
    commands = set(re.findall(r"^    ([a-z]+)  ", parser().format_help(), re.MULTILINE))
    assert used <= commands, used - commands
    assert {"check", "build", "format", "new", "handbook", "explain", "packs"} <= used
