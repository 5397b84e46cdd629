"""The readings of a reel's length, with what each says and whether it agrees with the ledger.

Each is compared with what the ledger had at its time. Of two kinds, the latest are compared with
each other as well if nothing was cut between them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from certs.models import ReelReading
from certs.queries.rope_mass import limits_of, masses_of
from certs.rules.derived import Derived, Gap
from certs.rules.received_mass import MEASURED
from certs.rules.reel_length import (
    Agreement,
    Drum,
    LengthEstimate,
    agreements,
    length_by_drum,
    length_by_mass,
)
from certs.rules.tolerance import DiameterLimits
from inventory.models import Reel
from inventory.rules.designation import parse_designation


@dataclass(frozen=True, slots=True)
class LengthReading:
    """A reading, what it says by each mass that is held, and how it agrees with the ledger."""

    reading: ReelReading
    estimates: tuple[LengthEstimate, ...]
    agreements: tuple[Agreement, ...]
    gaps: tuple[Gap, ...]


@dataclass(frozen=True, slots=True)
class ReelLengths:
    """All readings of a reel, the latest first; `between` compares those of different kinds."""

    readings: tuple[LengthReading, ...]
    between: tuple[Agreement, ...]


@dataclass(frozen=True, slots=True)
class _Rope:
    """What a reading is worked out with."""

    nominal_mm: Decimal
    limits: DiameterLimits | None
    masses: tuple[Derived | Gap, ...]


def readings_of(reel: Reel) -> ReelLengths:
    """Return what was read of a reel, and what follows."""
    rows = ReelReading.objects.filter(reel=reel).select_related("taken_by").order_by("-id")
    rope = _Rope(
        nominal_mm=parse_designation(reel.designation).diameter_mm,
        limits=limits_of(reel),
        masses=tuple(masses_of(reel)),
    )
    readings = tuple(_told(row, rope) for row in rows)
    return ReelLengths(readings, tuple(_between(readings)))


def told_reading(reading: ReelReading) -> LengthReading:
    """Return one reading with what follows from it."""
    lengths = readings_of(reading.reel)
    return next(one for one in lengths.readings if one.reading.pk == reading.pk)


def _told(reading: ReelReading, rope: _Rope) -> LengthReading:
    estimates = tuple(_estimates(reading, rope))
    is_by_mass = reading.kind == ReelReading.Kind.MASS
    compared = agreements(ledger_mm=reading.ledger_mm, estimates=estimates)
    return LengthReading(
        reading=reading,
        estimates=estimates,
        # The first comparisons are those of the ledger with each estimate.
        agreements=compared[: len(estimates)],
        gaps=tuple(one for one in rope.masses if isinstance(one, Gap)) if is_by_mass else (),
    )


def _estimates(reading: ReelReading, rope: _Rope) -> Iterator[LengthEstimate]:
    if reading.kind == ReelReading.Kind.MASS:
        for mass in rope.masses:
            if isinstance(mass, Derived):
                yield length_by_mass(
                    gross_g=reading.gross_g or 0,
                    tare_g=reading.tare_g or 0,
                    mass=mass,
                    nominal_mm=rope.nominal_mm,
                    # Rope that was weighed is as thick as it is: no limits of diameter spread it.
                    limits=None if mass.source == MEASURED else rope.limits,
                )
        return
    drum = Drum(
        barrel_mm=reading.barrel_mm or 0,
        traverse_mm=reading.traverse_mm or 0,
        wound_mm=reading.wound_mm or 0,
    )
    yield length_by_drum(drum, nominal_mm=rope.nominal_mm, limits=rope.limits)


def _between(readings: Sequence[LengthReading]) -> Iterator[Agreement]:
    latest = {
        kind: next((one for one in readings if one.reading.kind == kind), None)
        for kind in ReelReading.Kind.values
    }
    mass, drum = latest[ReelReading.Kind.MASS], latest[ReelReading.Kind.DRUM]
    if mass is None or drum is None or mass.reading.ledger_mm != drum.reading.ledger_mm:
        return
    for estimate in mass.estimates:
        pair = (estimate, *drum.estimates)
        yield agreements(ledger_mm=mass.reading.ledger_mm, estimates=pair)[-1]
