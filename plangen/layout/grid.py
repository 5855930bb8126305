"""A grid of cells over one planting area, and the rain of one sector on it.

The grid starts at the area's own bounds and divides them evenly, so that moving a head never moves a cell.
A cell counts as in the area when its centre is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from plangen.geometry.arc import Sector
from plangen.geometry.point import Point, bounds, inside, polygon_area
from plangen.quantity.dimension import FOOT_M

CELL_M = FOOT_M
# Designs of many hectares get coarser cells: this many in all, so that memory stays bounded.
CELLS_IN_ALL = 200_000
FEWEST_CELLS = 24


@dataclass(frozen=True, slots=True)
class Grid:
    """Cells of `dx_m` by `dy_m` from the corner (x0, y0), row by row from the south."""

    x0: float
    y0: float
    dx_m: float
    dy_m: float
    columns: int
    rows: int
    inside: tuple[bool, ...]

    @property
    def cell_m2(self) -> float:
        """Return the ground of one cell."""
        return self.dx_m * self.dy_m

    def centres(self) -> tuple[Point, ...]:
        """Return the centre of every cell, in the area or not, rounded to a micrometre."""
        xs = [round(self.x0 + (c + 0.5) * self.dx_m, 6) + 0.0 for c in range(self.columns)]
        ys = [round(self.y0 + (r + 0.5) * self.dy_m, 6) + 0.0 for r in range(self.rows)]
        return tuple(Point(x, y) for y in ys for x in xs)


def cell_size_m(total_m2: float) -> float:
    """Return the cell width for a design with that much planting: a foot, or whole feet on large grounds."""
    return CELL_M * max(1, math.ceil(math.sqrt(total_m2 / CELLS_IN_ALL) / CELL_M))


def grid_over(outline: Sequence[Point], cell_m: float = CELL_M) -> Grid:
    """Return the grid of an area; narrow beds get finer cells, so that enough centres lie inside."""
    for finer in (1, 2, 4, 8):
        grid = _grid(outline, cell_m / finer)
        if sum(grid.inside) >= FEWEST_CELLS:
            break
    return grid


def _grid(outline: Sequence[Point], cell_m: float) -> Grid:
    x0, y0, x1, y1 = bounds(outline)
    columns, rows = max(1, round((x1 - x0) / cell_m)), max(1, round((y1 - y0) / cell_m))
    dx, dy = (x1 - x0) / columns, (y1 - y0) / rows
    if math.isclose(abs(polygon_area(outline)), (x1 - x0) * (y1 - y0), rel_tol=1e-9):
        return Grid(x0, y0, dx, dy, columns, rows, (True,) * (columns * rows))
    within = tuple(
        inside(Point(x0 + (c + 0.5) * dx, y0 + (r + 0.5) * dy), outline)
        for r in range(rows)
        for c in range(columns)
    )
    return Grid(x0, y0, dx, dy, columns, rows, within)


def rain(sector: Sector, flow_m3s: float, grid: Grid) -> dict[int, float]:
    """Return the rate in m/s that a head lays on each cell of an area, by cell index.

    Profile: greatest at the head and falling in a straight line to nothing at the radius (triangular, common
    practice for heads spaced at their radius; no source). It is summed over every cell of the whole sector,
    also beyond the area, and scaled so that this sum is the head's flow: what falls outside is overspray.
    """
    weights = _weights(sector, grid)
    total = sum(weights.values())
    if total == 0.0:
        return {}
    rate = flow_m3s / (total * grid.cell_m2)
    return {
        row * grid.columns + column: weight * rate
        for (row, column), weight in weights.items()
        if 0 <= row < grid.rows and 0 <= column < grid.columns and grid.inside[row * grid.columns + column]
    }


def _weights(sector: Sector, grid: Grid) -> dict[tuple[int, int], float]:
    """Return the weight of each cell of the lattice without end, by row and column.

    This is the inner loop of the whole stage, so the test for the sector is written out: a place is in it
    when it lies clockwise of one side and counter-clockwise of the other (either, beyond a half circle).
    """
    radius = sector.radius_m
    # heads that throw over few cells are sampled finer
    fine = 1 if radius >= 12 * max(grid.dx_m, grid.dy_m) else 3
    full, narrow = sector.sweep_deg >= 360.0, sector.sweep_deg <= 180.0
    ax, ay, bx, by = sector.sides
    west, south, east, north = sector.box
    xs = _places(sector.centre.x, west, east, grid.x0, grid.dx_m, fine)
    ys = _places(sector.centre.y, south, north, grid.y0, grid.dy_m, fine)
    weights: dict[tuple[int, int], float] = {}
    for row, y in ys:
        for column, x in xs:
            square = x * x + y * y
            if square >= radius * radius:
                continue
            if not full:
                after, before = ay * x - ax * y >= -1e-9, bx * y - by * x >= -1e-9
                if not (after and before if narrow else after or before):
                    continue
            weight = 1.0 - math.sqrt(square) / radius
            weights[row, column] = weights.get((row, column), 0.0) + weight
    return weights


def _places(
    centre: float, low: float, high: float, origin: float, size_m: float, fine: int
) -> list[tuple[int, float]]:
    """Return the sampled places of a lattice between two offsets: (row or column, offset from the centre)."""
    step = size_m / fine
    first = math.floor((centre + low - origin) / step)
    last = math.floor((centre + high - origin) / step)
    return [(k // fine, origin + (k + 0.5) * step - centre) for k in range(first, last + 1)]


def low_quarter_uniformity(depths: Sequence[float]) -> float | None:
    """Return the mean of the lowest quarter over the mean of all (DU of the lowest quarter).

    Source: University of California, Davis, California Center for Urban Horticulture, "Measuring
    distribution uniformity". Where a quarter is not a whole number of cells the next one counts in part.
    """
    mean = sum(depths) / len(depths) if depths else 0.0
    if mean <= 0:
        return None
    quarter = len(depths) / 4
    whole = int(quarter)
    low = sorted(depths)
    part = low[whole] * (quarter - whole) if whole < len(low) else 0.0
    return (sum(low[:whole]) + part) / quarter / mean
