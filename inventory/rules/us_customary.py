"""Decides how whole units of the record are told in US customary units, beside the metric ones.

The factors are those of NIST SP 811 (2008), appendix B, from `inventory.rules.units`. What is told
here is for reading: it is rounded, and nothing is computed from it or recorded.
"""

from decimal import Decimal
from fractions import Fraction

from inventory.rules.units import G_PER_UNIT, MM_PER_UNIT, N_PER_UNIT, round_half_up

_NM_PER_MM = 10**6


def feet(mm: int) -> str:
    """Tell a length in feet to a hundredth, which is 3 mm: 12000 is "39.37 ft"."""
    return f"{_rounded(mm, MM_PER_UNIT['ft'], places=2)} ft"


def pounds_force(n: int) -> str:
    """Tell a force in whole pounds-force: 84600 is "19019 lbf"."""
    return f"{_rounded(n, N_PER_UNIT['lbf'], places=0)} lbf"


def pounds(g: int) -> str:
    """Tell a mass in pounds to a tenth: 104500 is "230.4 lb"."""
    return f"{_rounded(g, G_PER_UNIT['lb'], places=1)} lb"


def inches(nm: int) -> str:
    """Tell a rope diameter in inches to a thousandth: 9525000 is "0.375 in"."""
    return f"{_rounded(nm, MM_PER_UNIT['in'] * _NM_PER_MM, places=3)} in"


def _rounded(value: int, per_unit: Decimal, *, places: int) -> Decimal:
    """Return a whole number of small units in larger ones, rounded half away from nothing."""
    sign = -1 if value < 0 else 1
    steps = round_half_up(Fraction(abs(value)) / Fraction(per_unit) * 10**places)
    return Decimal(sign * steps).scaleb(-places)
