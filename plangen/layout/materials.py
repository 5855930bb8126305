"""Words for pipe materials and the rules of thumb of a bill of material, each with its source."""

from __future__ import annotations

# Cut-offs and breakage; common practice, no source.
WASTE = 0.05
WASTE_NOTE = "with 5 % for waste (common practice, no source)"
# Rigid pipe comes in 20 ft (6.1 m) lengths with one belled end: common practice, no source.
STICK_M = 6.096
STICK_MATERIALS = ("PVC", "CPVC")
# Joints from one quart of solvent cement by nominal size in inches, from memory of a trade table. The same
# table gives primer for twice as many.
JOINTS_PER_QUART: tuple[tuple[float, int], ...] = (
    (0.5, 300), (0.75, 200), (1.0, 125), (1.25, 105), (1.5, 90), (2.0, 60), (2.5, 50), (3.0, 40), (4.0, 30),
)  # fmt: skip
PRIMER_SHARE = 0.5

_WORDS = {
    "pvc": "PVC",
    "cpvc": "CPVC",
    "pe": "PE",
    "pe80": "PE",
    "pe100": "PE",
    "pex": "PEX",
    "copper": "copper",
}


def material_of(family: str) -> str:
    """Return the material of a pipe family: `PVC`, `copper`, `PE`."""
    first = family.replace("_", "-").split("-")[0].lower()
    return _WORDS.get(first, first)


def joints_per_quart(nominal_in: float) -> int:
    """Return how many joints of a nominal size one quart of cement makes; between sizes, the larger's."""
    for size, joints in JOINTS_PER_QUART:
        if nominal_in <= size + 1e-9:
            return joints
    return JOINTS_PER_QUART[-1][1]
