"""The fact vocabulary as a page: what a rule may ask about, with type, datum and closeness of building."""

from __future__ import annotations

from plangen.facts.values import FactField, FactType, Relation
from plangen.facts.vocabulary import VERSION, VOCABULARY
from plangen.text.suggest import listed

_HEAD = f"""# Facts

What a rule may ask about, version {VERSION} of the vocabulary. This page is generated from the vocabulary
that rule packs are typed against; names are only ever added. A fact that nobody has given is *not known*: a
rule that needs it neither passes nor fails, and the finding says what is missing.

Heights say what they are measured from. Where a crew cannot build to the inch, the closeness is stated; a
margin smaller than it is told as an advisory finding.
"""


def facts_reference() -> str:
    """Return the page."""
    lines = [_HEAD, *(f"- [`{r.name}`](#{r.name}): {r.help}" for r in VOCABULARY), ""]
    for relation in VOCABULARY:
        lines += _relation(relation)
    return "\n".join(lines).rstrip("\n") + "\n"


def _relation(relation: Relation) -> list[str]:
    one = " There is exactly one." if relation.single else ""
    lines = [f'## {relation.name} {{: id="{relation.name}" }}\n', f"{_sentence(relation.help)}{one}\n"]
    lines += ["| fact | type | what it says |", "|---|---|---|"]
    lines += [f"| `{f.name}` | {type_words(f.type)} | {_help(f)} |" for f in relation.fields]
    return [*lines, ""]


def _sentence(text: str) -> str:
    return f"{text[:1].upper()}{text[1:]}".rstrip(".") + "."


def type_words(kind: FactType) -> str:
    """Return a type in words: `length`, `yes or no`, `one of …`."""
    words = listed(f"`{w}`" for w in kind.words)
    if kind.kind == "quantity":
        return kind.dimension.value if kind.dimension else "number"
    if kind.kind == "truth":
        return "yes or no"
    if kind.kind == "word":
        return f"one of {words}" if words else "a word"
    if kind.kind == "words":
        return f"any of {words}" if words else "words"
    return "text"


def _help(field: FactField) -> str:
    text = field.help.replace("|", "\\|")
    text += f"; measured from {field.datum}" if field.datum else ""
    return text + (f"; built to within {field.tolerance_si * 1000:.4g} mm" if field.tolerance_si else "")
