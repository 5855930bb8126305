"""The site block to its value: outlines, grades, utilities, trees."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from plangen.diagnostics.diagnostic import Label, Problems
from plangen.geometry.point import Point, distance, polygon_area
from plangen.model.bound import Bound, BoundBlock
from plangen.model.crossing import first_crossing
from plangen.model.locate import Locator
from plangen.model.names import natural
from plangen.model.schema.ground import LANDMARKS, UTILITIES
from plangen.model.site import Area, Hydrozone, Landmark, Site, SpotGrade, Tree, Utility
from plangen.model.waterworks import Zone

_KIND = {"pond": "water"}


class SiteBuilder:
    """Builds the site; every fault becomes one message."""

    def __init__(self, block: BoundBlock, locator: Locator, problems: Problems) -> None:
        self.block = block
        self.locator = locator
        self.problems = problems

    def build(self) -> Site:
        """Return the site, with what could not be read left out."""
        block = self.block
        lots = [a for b in block.all("lot") if (a := self.area(b))]
        if len({b.name for b in block.all("lot")}) > 1:
            self.problems.error(
                "PG2022",
                "`lot` is said twice in `site`",
                block.all("lot")[1].head,
                labels=(Label(block.all("lot")[0].head, "first said here"),),
            )
        north = block.value("north", "bearing")
        return Site(
            span=block.head,
            coordinate_unit=block.value("coordinates", "unit") or "ft",
            north_deg=north.si % 360.0 if north else 0.0,
            datum=block.value("datum", "text") or "",
            frost_depth=block.value("frost depth", "depth"),
            lot=lots[0] if lots else None,
            buildings=self.areas("building"),
            paving=self.areas("paving"),
            planting=self.areas("turf", "bed"),
            grades=self.grades(),
            utilities=self.utilities(),
            trees=self.trees(),
            street=" and ".join(b.get("name") for b in block.all("street") if b.get("name")),
            other=self.areas("wall", "pond", "septic-field", "bank"),
            landmarks=self.landmarks(),
            hydrozones=self.hydrozones(),
        )

    def areas(self, *kinds: str) -> tuple[Area, ...]:
        """Return the areas of some kinds in the order of names."""
        found = [a for kind in kinds for b in self.block.all(kind) if (a := self.area(b))]
        return tuple(sorted(found, key=lambda a: natural(a.name)))

    def area(self, bound: Bound) -> Area | None:
        """Return one area, or None after a message."""
        outline = self.locator.outline(bound.name)
        if outline is None:
            return None
        if len(outline) > 1 and distance(outline[0], outline[-1]) < 1e-6:
            outline = outline[:-1]
        if not self._sound(bound, outline):
            return None
        return Area(
            kind=_KIND.get(bound.kind, bound.kind),
            name=bound.name,
            label=bound.get("label") or bound.name,
            outline=outline,
            span=bound.span,
            state=bound.get("state") or "existing",
            material=bound.get("material") or "",
            plant=bound.get("plant") or "",
            soil=bound.get("soil") or "",
            exposure=bound.get("exposure") or "",
            slope=bound.get("slope"),
            plant_factor=bound.get("plant_factor"),
        )

    def _sound(self, bound: Bound, outline: tuple[Point, ...]) -> bool:
        stops = bound.get("outline")
        span = stops[0].span.join(stops[-1].span)
        if len(set(outline)) < 3:
            self.problems.error(
                "PG3002",
                f"the outline of `{bound.name}` has {len(set(outline))} corners",
                span,
                expected="at least three different corners",
            )
            return False
        crossing = first_crossing(outline)
        if crossing is not None:
            i, j = crossing
            labels = (Label(stops[j % len(stops)].span, "and the side that begins here"),)
            self.problems.error(
                "PG3003",
                f"the outline of `{bound.name}` crosses itself",
                stops[i % len(stops)].span,
                expected="corners in the order in which one walks around",
                labels=labels,
            )
            return False
        if abs(polygon_area(outline)) < 1e-6:
            self.problems.error(
                "PG3002",
                f"the outline of `{bound.name}` encloses nothing",
                span,
                expected="at least three corners that are not in one line",
            )
            return False
        return True

    def grades(self) -> tuple[SpotGrade, ...]:
        """Return the spot grades in the order of their places; two at one place give a message."""
        found: dict[Point, SpotGrade] = {}
        for bound in self.block.all("grade"):
            place, elevation = bound.get("at"), bound.get("elevation")
            point = self.locator.point(place) if place else None
            if point is None or elevation is None:
                continue
            if point in found and found[point].elevation.si != elevation.si:
                self.problems.error(
                    "PG3014",
                    "this place has another grade already",
                    bound.span,
                    labels=(Label(found[point].span, "the first one"),),
                )
            found.setdefault(point, SpotGrade(point, elevation, bound.span))
        return tuple(found[p] for p in sorted(found))

    def utilities(self) -> tuple[Utility, ...]:
        """Return the buried lines in the order of names."""
        found = []
        for kind in UTILITIES:
            for bound in self.block.all(kind):
                stops = bound.get("route")
                route = self.locator.points(stops) if stops else None
                if route is None:
                    continue
                if len(route) < 2:
                    self.problems.error(
                        "PG3008",
                        f"the route of `{bound.name}` has one place",
                        stops[0].span,
                        expected="at least two places with `->` between",
                    )
                    continue
                found.append(
                    Utility(
                        kind,
                        bound.name,
                        route,
                        bound.get("depth"),
                        bound.span,
                        bound.get("state") or "existing",
                    )
                )
        return tuple(sorted(found, key=lambda u: natural(u.name)))

    def trees(self) -> tuple[Tree, ...]:
        """Return the trees in the order of names."""
        found = []
        for bound in self.block.all("tree"):
            point = self.locator.place_of(bound.name)
            if point is not None:
                state = bound.get("state") or "existing"
                label = bound.get("label") or ""
                factor = bound.get("plant_factor")
                found.append(Tree(bound.name, point, bound.get("canopy"), bound.span, state, label, factor))
        return tuple(sorted(found, key=lambda t: natural(t.name)))

    def landmarks(self) -> tuple[Landmark, ...]:
        """Return septic tanks, wells and cisterns in the order of names."""
        found = []
        for kind in LANDMARKS:
            for bound in self.block.all(kind):
                point = self.locator.place_of(bound.name)
                if point is not None:
                    label, state = bound.get("label") or "", bound.get("state") or "existing"
                    found.append(Landmark(kind, bound.name, label, point, bound.span, state))
        return tuple(sorted(found, key=lambda m: natural(m.name)))

    def hydrozones(self) -> tuple[Hydrozone, ...]:
        """Return the named hydrozones in the order of names."""
        found = [
            Hydrozone(
                bound.name,
                bound.get("label") or bound.name,
                bound.span,
                bound.get("plant") or "",
                bound.get("exposure") or "",
                bound.get("plant_factor"),
            )
            for bound in self.block.all("hydrozone")
            if bound.name
        ]
        return tuple(sorted(found, key=lambda h: natural(h.name)))


def with_hydrozones(site: Site, zones: Iterable[Zone]) -> Site:
    """Return the site with what a hydrozone says put into areas and trees of its zones that do not say it.

    An area or tree that zones of two hydrozones water takes nothing from either.
    """
    known = {h.name: h for h in site.hydrozones}
    named: dict[str, set[str]] = {}
    for zone in zones:
        for watered in (*zone.areas, *zone.trees) if zone.hydrozone_name else ():
            named.setdefault(watered, set()).add(zone.hydrozone_name)

    def zone_of(name: str) -> Hydrozone | None:
        names = named.get(name, set())
        return known.get(next(iter(names))) if len(names) == 1 else None

    planting = []
    for area in site.planting:
        if (of := zone_of(area.name)) is not None:
            area = replace(
                area,
                plant=area.plant or of.plant,
                exposure=area.exposure or of.exposure,
                plant_factor=area.plant_factor or of.plant_factor,
            )
        planting.append(area)
    trees = []
    for tree in site.trees:
        of = zone_of(tree.name)
        trees.append(replace(tree, plant_factor=tree.plant_factor or of.plant_factor) if of else tree)
    return replace(site, planting=tuple(planting), trees=tuple(trees))
