"""The shipped pipe table: outside diameter, wall, bore and rating by material and size, in SI."""

from __future__ import annotations

import csv
import io
import tomllib
from collections.abc import Iterator, Mapping
from functools import lru_cache

from plangen.model.parts import PipeSize
from plangen.quantity.dimension import UNITS
from plangen.quantity.quantity import Basis, Provenance, to_si
from plangen.shipped.folders import shipped_text

_BASIS = {"standard": Basis.STANDARD, "from memory": Basis.FROM_MEMORY}


@lru_cache(maxsize=1)
def _families() -> dict[str, dict[str, object]]:
    return tomllib.loads(shipped_text("library", "families.toml"))


@lru_cache(maxsize=1)
def _table() -> dict[tuple[str, str], PipeSize]:
    found = {}
    for row in csv.DictReader(io.StringIO(shipped_text("library", "pipes.csv"))):
        factor = UNITS[row["unit"]].factor
        family = _families()[row["family"]]
        nominal = f"{row['nominal']} {row['unit']}"
        basis = _BASIS[row["basis"]]
        found[row["family"], nominal] = PipeSize(
            family=row["family"],
            nominal=nominal,
            od_m=float(row["od"]) * factor,
            wall_m=float(row["wall"]) * factor,
            bore_m=float(row["bore"]) * factor,
            rating_pa=to_si(float(row["rating"]), row["rating_unit"]) if row["rating"] else None,
            hazen_williams_c=float(str(family["hazen_williams_c"])),
            modulus_pa=float(str(family["modulus_pa"])),
            source=row["source"],
            provenance=Provenance(basis, None, row["source"] if basis is Basis.STANDARD else ""),
            c_provenance=_backing(family, "c"),
            modulus_provenance=_backing(family, "modulus"),
            worn_c=float(str(family["worn_c"])),
            worn_provenance=_backing(family, "worn"),
        )
    return found


def _backing(family: dict[str, object], value: str) -> Provenance:
    return Provenance(_BASIS[str(family[f"{value}_basis"])], None, str(family[f"{value}_source"]))


class _PipeTable(Mapping[tuple[str, str], PipeSize]):
    """The table by (family, nominal), read when first asked."""

    def __getitem__(self, key: tuple[str, str]) -> PipeSize:
        return _table()[key]

    def __iter__(self) -> Iterator[tuple[str, str]]:
        return iter(_table())

    def __len__(self) -> int:
        return len(_table())


PIPE_TABLE: Mapping[tuple[str, str], PipeSize] = _PipeTable()


def pipe_size(family: str, nominal: str) -> PipeSize | None:
    """Return the row of a family and nominal size as the table writes it (`1-1/4 in`, `32 mm`), or None."""
    return _table().get((family, nominal))


@lru_cache(maxsize=1)
def _by_metres() -> dict[tuple[str, int], PipeSize]:
    from plangen.model.numbers import quantity_value

    # Micrometres: 1.25 in and 1-1/4 in are one size.
    return {(s.family, round(quantity_value(s.nominal)[0] * 1e6)): s for s in _table().values()}


def pipe_size_of(family: str, nominal_m: float) -> PipeSize | None:
    """Return the row whose nominal size is that many metres, however it was written, or None."""
    return _by_metres().get((family, round(nominal_m * 1e6)))


def families() -> tuple[str, ...]:
    """Return the names of the pipe families in the order of the table."""
    return tuple(_families())


def family_label(family: str) -> str:
    """Return a family as told on sheets; an unknown one as it is."""
    entry = _families().get(family)
    return str(entry["label"]) if entry else family


def sizes_of(family: str) -> tuple[str, ...]:
    """Return the nominal sizes of a family, smallest first."""
    return tuple(size.nominal for size in _table().values() if size.family == family)
