"""The advice and the least supply as plain data, for `plangen advise --output json`. Pure."""

from __future__ import annotations

import json

from plangen import __version__
from plangen.advice.advise import Advice, Open
from plangen.advice.costs import CostTable
from plangen.advice.space import Item
from plangen.build.report_least import least_facts
from plangen.build.report_values import Facts, significant
from plangen.packet.least_supply import LeastSupply

FORMAT = "plangen-advice/1"


def advice_json(
    design: str, digest: str, advice: Advice, least: LeastSupply, costs: CostTable, units: str
) -> str:
    """Return the whole result as JSON text that is the same everywhere."""
    facts: Facts = {
        "format": FORMAT,
        "tool": {"name": "plangen", "version": __version__},
        "design": design,
        "digest": digest,
        "costs": {"table": costs.file, "money": costs.money, "basis": costs.basis},
        "meets": advice.meets,
        "found": bool(advice.diff),
        "items": _items(advice.items),
        "cost": significant(advice.cost),
        "proven_cheapest": advice.proven,
        "proven_cheapest_for_mended": advice.proven or advice.alone,
        "none_below": significant(advice.at_least),
        "looks": advice.looks,
        "exhausted": advice.exhausted,
        "difference": advice.diff,
        "mended": list(advice.mended),
        "vouch_for": list(advice.vouch),
        "left": _open(advice.left),
        "closest": _items(advice.closest),
        "beyond": _open(advice.beyond),
        "questions": _open(advice.questions),
        "refused": list(advice.refused),
        "not_offered": list(advice.notes),
        "least_supply": least_facts(least, units),
    }
    return json.dumps(facts, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _items(items: tuple[Item, ...]) -> list[Facts]:
    return [{"object": i.object, "change": i.words, "cost": significant(i.cost)} for i in items]


def _open(found: tuple[Open, ...]) -> list[Facts]:
    return [{"finding": o.name, "status": o.status.replace(" ", "_"), "why": o.why} for o in found]
