"""Head loss of pipes, fittings and loss curves, and the speed of pressure waves. Pure functions in SI.

Pipe friction is Hazen-Williams in the one form used throughout:
h[ft] = 4.727 L[ft] Q[cfs]^1.852 / (C^1.852 D[ft]^4.871)
(EPANET 2.2 User Manual, chapter 3, table of pipe head-loss formulas), converted exactly to metres.
"""

from __future__ import annotations

import math
from bisect import bisect_right

from plangen.quantity.dimension import FOOT_M, GRAVITY_M_S2, PSI_PA

FLOW_EXPONENT = 1.852
_DIAMETER_EXPONENT = 4.871
_COEFFICIENT = 4.727
_CFS_M3S = FOOT_M**3
# Velocity heads take 2g = 64.4 ft/s2, the rounded value of US handbooks and of the manual named above. A
# link across a ring carries the small difference of large losses: 0.1 % in g moves its flow by more.
_GRAVITY_VELOCITY_HEAD = 32.2 * FOOT_M

# Water at about 20 degC: 62.3 lb/ft3 and a bulk modulus of 300,000 psi, the values behind the published
# wave speeds of PVC pressure pipe (Moser and Folkman, Buried Pipe Design, table 4.2).
_WAVE_DENSITY_KG_M3 = 62.3 * 0.45359237 / FOOT_M**3
_BULK_MODULUS_PA = 300_000 * PSI_PA

Curve = tuple[tuple[float, float], ...]


def friction_factor(length_m: float, diameter_m: float, roughness_c: float) -> float:
    """Return r of h = r Q^1.852 (metres, m3/s) for a pipe of real bore."""
    bore = (diameter_m / FOOT_M) ** _DIAMETER_EXPONENT
    return _COEFFICIENT * length_m / (bore * (roughness_c * _CFS_M3S) ** FLOW_EXPONENT)


def minor_factor(k: float, diameter_m: float) -> float:
    """Return m of h = m Q^2 for a loss of K velocity heads in a bore: K v^2 / 2g."""
    return 8.0 * k / (math.pi**2 * _GRAVITY_VELOCITY_HEAD * diameter_m**4) if k else 0.0


def bore_area_m2(diameter_m: float) -> float:
    """Return the area of a bore."""
    return math.pi * diameter_m**2 / 4.0


def velocity_ms(flow_m3s: float, diameter_m: float) -> float:
    """Return the mean speed, never negative; 0 where the bore is not known."""
    return abs(flow_m3s) / bore_area_m2(diameter_m) if diameter_m > 0 else 0.0


def curve_value(curve: Curve, x: float) -> tuple[float, float]:
    """Return value and slope of a curve, exact between its points.

    Beyond either end the last stretch is carried on so that the solver can find its way back; whoever
    uses the result must ask `curve_covers`.
    """
    if len(curve) == 1:
        return curve[0][1], 0.0
    i = min(max(bisect_right(curve, (x, math.inf)) - 1, 0), len(curve) - 2)
    (x0, y0), (x1, y1) = curve[i], curve[i + 1]
    slope = (y1 - y0) / (x1 - x0)
    return y0 + slope * (x - x0), slope


def curve_covers(curve: Curve, x: float) -> bool:
    """Return whether x lies on the curve, a ten-millionth of its width forgiven at either end."""
    slack = 1e-7 * (curve[-1][0] - curve[0][0])
    return curve[0][0] - slack <= x <= curve[-1][0] + slack


def wave_speed_ms(modulus_pa: float, bore_m: float, wall_m: float) -> float:
    """Return the speed of a pressure wave in a water-filled pipe: a0 / sqrt(1 + (K/E)(d/t)), d the bore."""
    open_water = math.sqrt(_BULK_MODULUS_PA / _WAVE_DENSITY_KG_M3)
    return open_water / math.sqrt(1.0 + _BULK_MODULUS_PA / modulus_pa * bore_m / wall_m)


def surge_m(wave_ms: float, velocity_change_ms: float) -> float:
    """Return the head that a sudden stop adds (Joukowsky): a dV / g."""
    return wave_ms * velocity_change_ms / GRAVITY_M_S2
