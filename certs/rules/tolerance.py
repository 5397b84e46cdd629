"""Between which limits the diameter of a rope must measure.

Which standard applies is the caller's choice. Where no limit has been read the answer is a gap,
never a number.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from certs.rules.derived import Derived, Gap, Given, Source, plain, trimmed
from certs.rules.rope_match import NoBasis, check_row
from certs.rules.specification_row import TableRow, decimal_or_none, size_mm, source_of
from inventory.rules.rope_designation import RopeDesignation

DIAMETER = "diameter"
DIFFERENCE_ALL_WIRE = "difference of two diameters, all-wire strands"
DIFFERENCE_FIBRE_CENTRED = "difference of two diameters, fibre-centred strands"
EXACT = "none: exact"
SMALLEST_PUBLISHED_MM = 2
BELOW_TWO = "No published limit below 2 mm: agree the value with the maker and enter it."


@dataclass(frozen=True, slots=True)
class DiameterTolerance:
    """A row of limits, in per cent of the nominal diameter, for a range of sizes.

    `includes_upper` says which end of the range belongs to it: the EN and API rows include their
    lower end (8 mm has the limit of the row from 8), the WRTB rows their upper end.
    """

    what: str
    standard: str
    from_mm: Decimal
    to_mm: Decimal | None
    includes_upper: bool
    min_percent: Decimal | None
    max_percent: Decimal | None
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "DiameterTolerance":
        """Read a row of the tolerance table; an empty upper end is an open range."""
        return cls(
            what=row["what"],
            standard=row["standard"],
            from_mm=size_mm(row["from"], unit=row["unit"]),
            to_mm=size_mm(row["to"], unit=row["unit"]) if row["to"] else None,
            includes_upper=row["included_bound"] == "to",
            min_percent=decimal_or_none(row["min"]),
            max_percent=decimal_or_none(row["max"]),
            source=source_of(row),
        )

    def covers(self, diameter_mm: Decimal) -> bool:
        """Say whether a nominal diameter lies in the range."""
        if self.includes_upper:
            return self.from_mm < diameter_mm and (self.to_mm is None or diameter_mm <= self.to_mm)
        return self.from_mm <= diameter_mm and (self.to_mm is None or diameter_mm < self.to_mm)


@dataclass(frozen=True, slots=True)
class DiameterLimits:
    """Lowest and highest diameter allowed, in mm, each with its derivation.

    `difference` is the most that two measured diameters may differ, where the standard says so.
    """

    lowest: Derived
    highest: Derived
    difference: Derived | Gap
    source: Source

    @property
    def min_mm(self) -> Decimal:
        """Give the lowest diameter allowed, in mm."""
        return self.lowest.stated

    @property
    def max_mm(self) -> Decimal:
        """Give the highest diameter allowed, in mm."""
        return self.highest.stated

    def contains(self, measured_mm: Decimal) -> bool:
        """Say whether a measured diameter is allowed, the limits themselves included."""
        return self.min_mm <= measured_mm <= self.max_mm


def diameter_limits(
    designation: RopeDesignation, *, standard: str, rows: Sequence[DiameterTolerance]
) -> DiameterLimits | Gap:
    """Give the diameter limits of a rope under one standard, or a gap where none is held."""
    nominal_mm = designation.diameter_mm
    row = _row_for(nominal_mm, standard=standard, what=DIAMETER, rows=rows)
    if row is None or row.min_percent is None or row.max_percent is None:
        return _gap(nominal_mm, standard=standard)
    is_fibre_centred = designation.construction.endswith("FC")
    what = DIFFERENCE_FIBRE_CENTRED if is_fibre_centred else DIFFERENCE_ALL_WIRE
    return DiameterLimits(
        lowest=_limit("lowest diameter", "dmin", nominal_mm, row.min_percent, row.source),
        highest=_limit("highest diameter", "dmax", nominal_mm, row.max_percent, row.source),
        difference=_difference(nominal_mm, standard=standard, what=what, rows=rows),
        source=row.source,
    )


def limits_from_table(designation: RopeDesignation, row: TableRow) -> DiameterLimits | Gap:
    """Give the diameter limits printed beside a tabulated force, or a gap where none are.

    Raises NoBasis where the row speaks of another rope.
    """
    check_row(designation, row)
    if not row.dia_min or not row.dia_max:
        return Gap(DIAMETER, f"{row.name} prints no diameter limits.", row.source)
    return DiameterLimits(
        lowest=_printed("lowest diameter", "dmin", row.dia_min, row),
        highest=_printed("highest diameter", "dmax", row.dia_max, row),
        difference=Gap(
            DIFFERENCE_ALL_WIRE, f"{row.name} prints no limit of difference.", row.source
        ),
        source=row.source,
    )


def agreed_limits(*, min_mm: Decimal, max_mm: Decimal, document: str) -> DiameterLimits:
    """Give limits agreed with the maker, naming the document that states them.

    Raises NoBasis when they are not a range above nought.
    """
    if not 0 < min_mm < max_mm:
        message = "Agreed diameter limits must be above nought, the lowest first."
        raise NoBasis(message, field="diameter_limits")
    source = Source(name=document, confidence="agreed with the maker")
    return DiameterLimits(
        lowest=_agreed("lowest diameter", "dmin", min_mm, source),
        highest=_agreed("highest diameter", "dmax", max_mm, source),
        difference=Gap(DIFFERENCE_ALL_WIRE, "No limit of difference was agreed.", source),
        source=source,
    )


def _row_for(
    nominal_mm: Decimal, *, standard: str, what: str, rows: Iterable[DiameterTolerance]
) -> DiameterTolerance | None:
    fitting = (
        row
        for row in rows
        if row.standard == standard and row.what == what and row.covers(nominal_mm)
    )
    return next(fitting, None)


def _gap(nominal_mm: Decimal, *, standard: str) -> Gap:
    if nominal_mm < SMALLEST_PUBLISHED_MM:
        return Gap(DIAMETER, BELOW_TWO)
    reason = (
        f"No limit is held for {trimmed(nominal_mm)} mm under {standard}: "
        "enter it from your copy of the standard."
    )
    return Gap(DIAMETER, reason)


def _difference(
    nominal_mm: Decimal, *, standard: str, what: str, rows: Sequence[DiameterTolerance]
) -> Derived | Gap:
    row = _row_for(nominal_mm, standard=standard, what=what, rows=rows)
    if row is None or row.max_percent is None:
        size = trimmed(nominal_mm)
        return Gap(what, f"No limit of difference is held for {size} mm under {standard}.")
    exact_mm = nominal_mm * row.max_percent / 100
    return Derived(
        quantity=what,
        symbol="Δd",
        formula="Δd = d p / 100",
        inputs=_percent_inputs(nominal_mm, row.max_percent, row.source),
        source=row.source,
        unrounded=exact_mm,
        stated=Decimal(trimmed(exact_mm)),
        unit="mm",
        rounding=EXACT,
        basis=f"{plain(row.max_percent)} % of the nominal diameter",
    )


def _limit(
    quantity: str, symbol: str, nominal_mm: Decimal, percent: Decimal, source: Source
) -> Derived:
    exact_mm = nominal_mm * (100 + percent) / 100
    return Derived(
        quantity=quantity,
        symbol=symbol,
        formula=f"{symbol} = d (100 + p) / 100",
        inputs=_percent_inputs(nominal_mm, percent, source),
        source=source,
        unrounded=exact_mm,
        stated=Decimal(trimmed(exact_mm)),
        unit="mm",
        rounding=EXACT,
        basis=f"{plain(percent)} % over the nominal diameter",
    )


def _percent_inputs(nominal_mm: Decimal, percent: Decimal, source: Source) -> tuple[Given, ...]:
    return (
        Given("d", "nominal diameter", trimmed(nominal_mm), "mm"),
        Given("p", "limit in per cent of the nominal diameter", plain(percent), "%", source),
    )


def _printed(quantity: str, symbol: str, text: str, row: TableRow) -> Derived:
    limit_mm = trimmed(size_mm(text, unit=row.dia_unit))
    given = Given("D", f"printed limit, {text} {row.dia_unit}", limit_mm, "mm")
    return _as_given(quantity, symbol, given, source=row.source, basis=f"table row of {row.name}")


def _agreed(quantity: str, symbol: str, limit_mm: Decimal, source: Source) -> Derived:
    given = Given("D", "agreed limit", trimmed(limit_mm), "mm")
    basis = f"agreed with the maker in {source.name}"
    return _as_given(quantity, symbol, given, source=source, basis=basis)


def _as_given(quantity: str, symbol: str, given: Given, *, source: Source, basis: str) -> Derived:
    return Derived(
        quantity=quantity,
        symbol=symbol,
        formula=f"{symbol} = {given.symbol}",
        inputs=(given,),
        source=source,
        unrounded=Decimal(given.value),
        stated=Decimal(given.value),
        unit="mm",
        rounding=EXACT,
        basis=basis,
    )
