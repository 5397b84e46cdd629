"""Whether the marked grade of a rope stands on its evidence, and what a US grade name may mean.

A grade name is never converted: what trade texts say about it is shown as information only.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from certs.rules.derived import Gap, Source, trimmed
from certs.rules.specification_row import source_of
from inventory.rules.refusal import Refusal

STRENGTH_BAND = "band of wire strength"
PERCENT_OF_GRADE = "% of grade"
WIRES_OUTSIDE = Source(
    name="ISO 10425:2003 (API Spec 9A) Annex B: at most 5 % of the wires, rounded up, outside",
    confidence="read",
)


@dataclass(frozen=True, slots=True)
class WireBand:
    """A row of the wire table: how far above the grade a wire may be, by its diameter."""

    steel: str
    from_mm: Decimal
    to_mm: Decimal
    plus: Decimal
    plus_unit: str
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "WireBand":
        """Read a row of the wire table."""
        return cls(
            steel=row["steel"],
            from_mm=Decimal(row["wire_from_mm"]),
            to_mm=Decimal(row["wire_to_mm"]),
            plus=Decimal(row["plus"]),
            plus_unit=row["plus_unit"],
            source=source_of(row),
        )


@dataclass(frozen=True, slots=True)
class StrengthBand:
    """Lowest and highest tensile strength of a wire, in N/mm2."""

    lower_n_mm2: Decimal
    upper_n_mm2: Decimal
    source: Source

    def contains(self, strength_n_mm2: Decimal) -> bool:
        """Say whether a strength lies in the band, its limits included."""
        return self.lower_n_mm2 <= strength_n_mm2 <= self.upper_n_mm2


@dataclass(frozen=True, slots=True)
class WireStrength:
    """One wire tested in tension: diameter in mm, strength in N/mm2."""

    diameter_mm: Decimal
    strength_n_mm2: Decimal


@dataclass(frozen=True, slots=True)
class WireEvidence:
    """The wires tested, and how many the standard asks for this rope."""

    steel: str
    wires: tuple[WireStrength, ...]
    wires_required: int


@dataclass(frozen=True, slots=True)
class ForceEvidence:
    """A breaking force measured on a sample of the rope, and the force its grade asks, in N."""

    measured_n: int
    required_n: int


@dataclass(frozen=True, slots=True)
class GradeFinding:
    """Whether a grade stands, and the reasons in words."""

    is_supported: bool
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GradeName:
    """What one source says a US grade name corresponds to."""

    us_grade: str
    metric_grade: str
    kind: str
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "GradeName":
        """Read a row of the grade name table."""
        return cls(
            us_grade=row["us_grade"],
            metric_grade=row["metric_grade"],
            kind=row["kind"],
            source=source_of(row),
        )

    @property
    def names(self) -> frozenset[str]:
        """Give the names the row treats as one; a construction after the name is left off."""
        return frozenset(part.split()[0] for part in self.us_grade.split("/"))


def wire_band(
    *, steel: str, wire_diameter_mm: Decimal, grade: str, rows: Iterable[WireBand]
) -> StrengthBand | Gap:
    """Give the strength band of a wire, or a gap where the table holds no row for its diameter.

    A diameter on the border of two rows takes the thicker, narrower one (own decision, safe
    side). Raises Refusal for a US grade name.
    """
    lower = _metric(grade)
    for row in rows:
        if row.steel == steel and row.from_mm <= wire_diameter_mm < row.to_mm:
            return StrengthBand(lower, lower + _allowance(row, lower), row.source)
    reason = (
        f"No band is held for {steel} wire of {trimmed(wire_diameter_mm)} mm: "
        "enter it from your copy of the standard."
    )
    return Gap(STRENGTH_BAND, reason)


def grade_supported(
    *,
    grade: str,
    rows: Sequence[WireBand],
    wires: WireEvidence | None = None,
    force: ForceEvidence | None = None,
) -> GradeFinding:
    """Say whether the marked grade stands.

    A measured breaking force decides, either way. Without one the wires decide: enough of them,
    and no more outside their band than ISO 10425 Annex B lets pass. No evidence supports nothing.
    """
    if force is not None:
        return _by_force(grade, force)
    if wires is None or not wires.wires:
        reason = f"No wire strength and no breaking force is on record to support grade {grade}."
        return GradeFinding(is_supported=False, reasons=(reason,))
    if not grade.isdecimal():
        reason = (
            f"Grade {grade} is a name and has no wire band here: "
            "only a measured breaking force can support it."
        )
        return GradeFinding(is_supported=False, reasons=(reason,))
    return _by_wires(grade, wires, rows)


def grade_information(us_name: str, rows: Sequence[GradeName]) -> tuple[str, ...]:
    """Tell what each source says about a US grade name: information, never a conversion."""
    asked = us_name.upper()
    synonyms = {asked}.union(*(row.names for row in rows if asked in row.names))
    return tuple(_information(row) for row in rows if row.names & synonyms)


def _by_force(grade: str, force: ForceEvidence) -> GradeFinding:
    figures = f"{force.measured_n} N measured, {force.required_n} N required for grade {grade}"
    if force.measured_n >= force.required_n:
        return GradeFinding(is_supported=True, reasons=(f"Breaking force holds: {figures}.",))
    reason = f"Breaking force falls short: {figures}. De-rate the rope or lower the grade."
    return GradeFinding(is_supported=False, reasons=(reason,))


def _by_wires(grade: str, evidence: WireEvidence, rows: Sequence[WireBand]) -> GradeFinding:
    outside = tuple(
        reason
        for wire in evidence.wires
        if (reason := _why_outside(grade, evidence.steel, wire, rows))
    )
    tested = len(evidence.wires)
    allowed = -(-tested // 20)
    count = (
        f"{len(outside)} of {tested} wires outside, {allowed} allowed "
        f"({WIRES_OUTSIDE.name}); {evidence.wires_required} wires required."
    )
    is_supported = tested >= evidence.wires_required and len(outside) <= allowed < tested
    return GradeFinding(is_supported=is_supported, reasons=(count, *outside))


def _why_outside(grade: str, steel: str, wire: WireStrength, rows: Sequence[WireBand]) -> str:
    band = wire_band(steel=steel, wire_diameter_mm=wire.diameter_mm, grade=grade, rows=rows)
    if isinstance(band, Gap):
        return band.reason
    if band.contains(wire.strength_n_mm2):
        return ""
    return (
        f"Wire of {trimmed(wire.diameter_mm)} mm: {trimmed(wire.strength_n_mm2)} N/mm² is outside "
        f"{trimmed(band.lower_n_mm2)} to {trimmed(band.upper_n_mm2)} N/mm² ({band.source.text})."
    )


def _metric(grade: str) -> Decimal:
    if not grade.isdecimal():
        message = f"Grade {grade} is a name, not a tensile strength: it has no band of wires."
        raise Refusal(message, field="grade")
    return Decimal(grade)


def _allowance(row: WireBand, grade_n_mm2: Decimal) -> Decimal:
    if row.plus_unit == PERCENT_OF_GRADE:
        return grade_n_mm2 * row.plus / 100
    return row.plus


def _information(row: GradeName) -> str:
    note = f" ({row.source.note})" if row.source.note else ""
    return f"{row.us_grade}: {row.metric_grade}, {row.kind}; {row.source.text}{note}"
