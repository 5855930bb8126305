"""A straight descent to a choice that mends: for when the search is cut off. It may not be the cheapest."""

from __future__ import annotations

from dataclasses import replace

from plangen.advice.choice import NOTHING, Change, Choice, Sized
from plangen.advice.conflict import Tried
from plangen.advice.search import Outcome, Search

# A descent ends after so many steps, and lets a pipe be that wins less than this.
_MOST_STEPS = 60
_WORTH_M = 0.005
_LEAST_COST = 1e-9


def descended(search: Search, root: Tried, outcome: Outcome, refused: tuple[Choice, ...]) -> Outcome:
    """Return the outcome of a search that was cut off with what a descent found, if it found anything."""
    tried: Tried | None = root
    best = outcome.best
    for _ in range(_MOST_STEPS):
        if tried is None or not tried.faults:
            break
        change = _likeliest(search, tried)
        tried = None if change is None else search.look(tried.choice.having(change))
        if tried is not None:
            best = min(best, tried, key=lambda t: (len(t.faults), t.cost))
    found = None if tried is None or tried.faults else _lightened(search, tried)
    if found is None or found.choice in refused:
        return replace(outcome, best=best, looks=search.looks)
    return replace(outcome, found=found, best=found, looks=search.looks)


def _likeliest(search: Search, tried: Tried) -> Change | None:
    """Return the change to try next: what wins most for its cost, then what costs least."""
    first = search.found_conflicts(tried)[0]
    if first.kind == "kind":
        return min(first.own, key=lambda c: search.parts.get(c, 0.0), default=None)
    if first.kind == "pressure":
        case, node, _ = search.lack(tried, first)
        offers = search.conflicts.offers(tried, case, node, {})
        rates = [
            (-gain / max(cost, _LEAST_COST), str(c), c)
            for c in first.own
            if isinstance(c, Sized)
            for gain, cost in offers.get(c.name, ())[:1]
            if gain > _WORTH_M
        ]
        if rates:
            return min(rates)[2]
    elif first.own:
        return first.own[0]
    shared = search.shared(tried, first.zones) if first.shared else iter(())

    def weight(change: Change) -> tuple[float, str]:
        return search.space.least_of(change, tried.choice, search.variants), str(change)

    return min(shared, key=weight, default=None)


def _lightened(search: Search, tried: Tried) -> Tried:
    """Return a choice that mends without those of its changes that it can do without, the dearest first."""
    changes = sorted(tried.choice.changes, key=lambda c: -search.space.least_of(c, NOTHING, search.variants))
    for change in changes:
        fewer = search.look(tried.choice.without(change))
        if fewer is not None and not fewer.faults:
            tried = fewer
    return tried
