"""The handbook's Markdown pages as web pages that open from disk: no script, nothing fetched. Pure."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Iterable, Mapping
from html import escape

from jinja2 import DictLoader, Environment, StrictUndefined
from markdown import Markdown

# The pages of the row of links at the top, in the order of use.
FIRST = (
    "index",
    "tutorial",
    "language",
    "language-reference",
    "units",
    "commands",
    "rules",
    "facts",
    "codes",
)
_FENCE = re.compile(r"^```(plan|rules) .*$", re.MULTILINE)
_HREF = re.compile(r'(?<=href=")([^"#:]+)(?=[#"])')
_TITLE = re.compile(r"\A# (.*)$", re.MULTILINE)
_HOME = "handbook/"


def handbook_html(pages: Mapping[str, str], files: Iterable[str], template: str) -> dict[str, str]:
    """Return the web pages by path.

    `pages` are Markdown texts by their path in the source (`handbook/tutorial.md`, `codes/PG1001.md`), and
    `files` the paths of other files that pages may link to. What is in `handbook/` comes to the top.
    """
    known = {*pages, *files}
    environment = Environment(
        loader=DictLoader({"handbook.html": template}), autoescape=True, undefined=StrictUndefined
    )
    layout = environment.get_template("handbook.html")
    row = [f"{_HOME}{name}.md" for name in FIRST if f"{_HOME}{name}.md" in pages]
    row += sorted(path for path in pages if path.startswith("packs/"))
    links = [{"href": target(path), "title": title(pages[path])} for path in row]
    return {
        target(path): layout.render(
            title=title(text),
            root="../" * target(path).count("/"),
            pages=links,
            here=target(path),
            body=_Body(_linked(path, page_body(text), known)),
        )
        for path, text in sorted(pages.items())
    }


class _Body(str):
    """HTML of our own making, which the template takes as it is."""

    __slots__ = ()

    def __html__(self) -> str:
        return str(self)


def target(path: str) -> str:
    """Return the path of the file made from a source: `handbook/units.md` becomes `units.html`."""
    path = path.removeprefix(_HOME)
    return f"{path[:-3]}.html" if path.endswith(".md") else path


def title(text: str) -> str:
    """Return the first heading of a page."""
    found = _TITLE.search(text)
    return found[1] if found else "plangen"


def page_body(text: str) -> str:
    """Return a Markdown text as HTML, with an id on every heading."""
    reader = Markdown(extensions=["tables", "fenced_code", "attr_list", "toc"], output_format="html")
    html: str = reader.convert(_FENCE.sub(r"```\1", text))
    return html.replace("<table>", '<div class="wide"><table>').replace("</table>", "</table></div>")


def plain_text(text: str) -> str:
    """Return a text that comes from a pack, safe to stand in Markdown."""
    return re.sub(r"([\\`*_\[\]|])", r"\\\1", escape(text, quote=False))


def _linked(path: str, html: str, known: set[str]) -> str:
    """Return the HTML of a page with its links turned from sources to the files made from them."""

    def turned(found: re.Match[str]) -> str:
        source = posixpath.normpath(posixpath.join(posixpath.dirname(path), found[1]))
        if source not in known:
            return found[1]
        return posixpath.relpath(target(source), posixpath.dirname(target(path)) or ".")

    return _HREF.sub(turned, html)
