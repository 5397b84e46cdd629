"""What the invented stockist measured of each reel as it came, and what was decided of one."""

from decimal import Decimal

from certs.management.demo.invented import rows_of
from certs.management.demo.stage import Stage
from certs.queries.receiving import Measured
from certs.rules.measured_diameter import Readings
from inventory.services.holds import release_hold

TOO_THICK = "V-941"
DECIDED = (
    "The mill confirms oversize of up to 8 % for this lot in writing; the rope is sold for"
    " general use only, not for drums or sheaves (invented)."
)
_NM_PER_MM = 10**6


def measured(number: str) -> Measured:
    """Give what was measured of the reel of this mill's number."""
    row = next(row for row in rows_of("receiving") if row["number"] == number)
    is_weighed = bool(row["weighed_m"])
    return Measured(
        standard=row["standard"],
        readings=Readings(*(int(Decimal(one) * _NM_PER_MM) for one in row["readings_mm"].split())),
        weighed_length_mm=int(row["weighed_m"]) * 1000 if is_weighed else None,
        weighed_mass_g=int(Decimal(row["weighed_kg"]) * 1000) if is_weighed else None,
        zinc_class=row["zinc_class"],
    )


def decide_on_the_thick_reel(stage: Stage) -> None:
    """Have the QA officer accept the reel that measured too thick, with a reason."""
    check = stage.reels[TOO_THICK].receiving_checks.get()
    if check.hold is not None:
        release_hold(
            hold=check.hold,
            reason=DECIDED,
            by=stage.people["qa"],
            at=stage.calendar.moment(),
        )
