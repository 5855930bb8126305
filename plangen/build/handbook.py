"""The handbook as a folder of web pages: its Markdown, a page for each message and for each rule pack."""

from __future__ import annotations

from plangen.build.digest import sha256
from plangen.build.manifest import manifest_bytes
from plangen.build.rule_book import read_rule_book
from plangen.build.write import MANIFEST, Product
from plangen.checking.explain import explain_rule, source_words
from plangen.checking.packs import CheckedPack
from plangen.packet.handbook import handbook_html, plain_text
from plangen.shipped.folders import shipped_folder, shipped_text

_SCHEMA = "handbook/report.schema.json"


def handbook_products() -> tuple[Product, ...]:
    """Return every file of the handbook's folder, its manifest last."""
    template = shipped_text("site", "templates", "handbook.html")
    pages = handbook_html(handbook_sources(), (_SCHEMA,), template)
    products = [Product(path, html.encode("utf-8")) for path, html in pages.items()]
    products.append(Product("page.css", shipped_text("site", "style", "page.css").encode("utf-8")))
    schema = shipped_text("site", *_SCHEMA.split("/"))
    products.append(Product("report.schema.json", schema.encode("utf-8")))
    digest = sha256("".join(sha256(p.data) for p in products).encode("ascii"))
    return (*products, Product(MANIFEST, manifest_bytes(digest, (), (), (), products)))


def handbook_sources() -> dict[str, str]:
    """Return the Markdown of every page by its path, those of the packs made here."""
    site = shipped_folder("site")
    found = {
        f"{folder}/{path.name}": shipped_text("site", folder, path.name)
        for folder in ("handbook", "codes")
        for path in sorted((site / folder).glob("*.md"))
    }
    for pack in read_rule_book().packs:
        found[f"packs/{pack.name}.md"] = pack_page(pack)
    return found


def pack_page(pack: CheckedPack) -> str:
    """Return one pack as Markdown: its heading, its limits, and every rule in plain words."""
    lines = [f"# Pack {pack.name}", "", f"{plain_text(pack.title)}.", ""]
    lines += [f"**{plain_text(pack.banner)}**", ""] if pack.banner else []
    lines += ["**The place is invented.**", ""] if pack.invented else []
    lines += [
        f"- Authority: {plain_text(pack.authority)}",
        f"- Edition: {plain_text(pack.edition)}, in force from {pack.effective.isoformat()}",
        f"- Contact: {plain_text(pack.contact)}",
        f"- Chain: {' over '.join(reversed(pack.chain))}",
        "",
        "## Limits",
        "",
        "| limit | value | what it is | source |",
        "|---|---|---|---|",
    ]
    for limit in pack.limits:
        value = limit.written or ", ".join(limit.words)
        row = (limit.name.replace("_", " "), value, limit.about, source_words(limit.source))
        lines.append(f"| {' | '.join(plain_text(cell) for cell in row)} |")
    lines += ["", "## Rules", ""]
    for rule in pack.rules:
        lines += [f'### {rule.name} {{: id="{rule.name}" }}', ""]
        words = explain_rule((pack,), rule.name, "us").split("\n")
        lines += [_rule_line(line) for line in words]
        lines.append("")
    return "\n".join(lines) + "\n"


def _rule_line(line: str) -> str:
    """Return a line of a rule in plain words as Markdown; its lists stay lists."""
    if line.startswith("- "):
        return f"- {plain_text(line[2:])}"
    return f"{plain_text(line)}  " if line else ""
