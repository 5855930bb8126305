"""SI values in the words of the project's units; what is not known is said so. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from plangen.packet.tables import NOT_KNOWN, NOT_STATED
from plangen.quantity.dimension import Dimension, head_to_pressure_pa
from plangen.quantity.display import number, told
from plangen.quantity.quantity import Quantity, si_to


@dataclass(frozen=True, slots=True)
class Tell:
    """Tells values in one unit system (`us` or `metric`)."""

    units: str

    def value(self, si: float | None, dimension: Dimension, *, small: bool = False) -> str:
        """Return a value of a dimension."""
        return NOT_KNOWN if si is None else told(si, dimension, self.units, small=small)

    def length(self, metres: float | None) -> str:
        """Return a length."""
        return self.value(metres, Dimension.LENGTH)

    def small(self, metres: float | None) -> str:
        """Return a height or cover in the small unit."""
        return self.value(metres, Dimension.LENGTH, small=True)

    def bore(self, metres: float | None) -> str:
        """Return a bore, close enough to be computed with: to a thousandth of an inch or a tenth of a mm."""
        if metres is None:
            return NOT_KNOWN
        unit, decimals = ("in", 3) if self.units == "us" else ("mm", 1)
        return f"{number(si_to(metres, Dimension.LENGTH, unit), decimals)} {unit}"

    def flow(self, m3s: float | None) -> str:
        """Return a flow."""
        return self.value(m3s, Dimension.FLOW)

    def pressure(self, head_m: float | None) -> str:
        """Return a height of water as a pressure."""
        return self.value(None if head_m is None else head_to_pressure_pa(head_m), Dimension.PRESSURE)

    def volume(self, m3: float | None) -> str:
        """Return a volume."""
        return self.value(m3, Dimension.VOLUME)

    def velocity(self, ms: float | None) -> str:
        """Return a velocity."""
        return self.value(ms, Dimension.VELOCITY)

    def rate(self, ms: float | None) -> str:
        """Return an application rate."""
        return self.value(ms, Dimension.RATE)

    def share(self, ratio: float | None) -> str:
        """Return a share in per cent."""
        return self.value(ratio, Dimension.RATIO)

    def minutes(self, minutes: float | None) -> str:
        """Return a time given in minutes."""
        return self.value(None if minutes is None else minutes * 60.0, Dimension.TIME)


def written(quantity: Quantity | None) -> str:
    """Return a quantity as its author wrote it, or that it is not stated."""
    return quantity.written if quantity is not None else NOT_STATED


def basis(quantity: Quantity | None) -> str:
    """Return where a quantity comes from, or nothing."""
    return quantity.provenance.told() if quantity is not None else ""
