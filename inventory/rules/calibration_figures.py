"""How the figures of a calibration certificate are written: per cent of the force, and k.

It reads them exactly and keeps the writing; what follows from them is a claim.
"""

from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Final

from inventory.rules.refusal import Refusal

# A machine that errs by more than this is of no class (ISO 7500-1 ends at 3 %).
GREATEST_PERCENT: Final = Decimal(10)
# Student's t for 95.45 % at one degree of freedom is 13.97 (JCGM 100:2008, Table G.2).
GREATEST_FACTOR: Final = Decimal(14)
_LONGEST = 8


class NoFigure(Refusal):
    """A figure of a calibration that cannot be."""


@dataclass(frozen=True, slots=True)
class CalibrationFigures:
    """Text as it is kept; empty where the certificate does not state it."""

    uncertainty_pct: str = ""
    coverage_factor: str = ""
    repeatability_pct: str = ""

    @classmethod
    def read(
        cls, *, uncertainty_pct: str = "", coverage_factor: str = "", repeatability_pct: str = ""
    ) -> "CalibrationFigures":
        """Read the figures. Raises NoFigure, also for an uncertainty without k or k without it."""
        figures = cls(
            _read(uncertainty_pct, field="uncertainty_pct", greatest=GREATEST_PERCENT),
            _read(coverage_factor, field="coverage_factor", greatest=GREATEST_FACTOR),
            _read(repeatability_pct, field="repeatability_pct", greatest=GREATEST_PERCENT),
        )
        if bool(figures.uncertainty_pct) != bool(figures.coverage_factor):
            missing = "coverage_factor" if figures.uncertainty_pct else "uncertainty_pct"
            message = "An expanded uncertainty and its coverage factor k belong together."
            raise NoFigure(message, field=missing)
        return figures


def _read(text: str, *, field: str, greatest: Decimal) -> str:
    written = text.strip().removesuffix("%").strip().replace(",", ".")
    if not written:
        return ""
    try:
        value = Decimal(written)
    except InvalidOperation:
        value = Decimal(0)
    if len(written) > _LONGEST or not value.is_finite() or not 0 < value <= greatest:
        message = f"Write a number above 0 and not above {greatest}, such as 0.24 or 2."
        raise NoFigure(message, field=field)
    return format(value, "f")
