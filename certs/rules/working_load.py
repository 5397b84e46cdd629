"""What an assembly may carry: from the certified breaking force, its ends and its legs.

It decides the formula value and which value governs. Which ends are allowed is decided by
`termination`, the legs by `sling_legs`, the load of the test by `proof_load`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from certs.rules.breaking_force import in_kilonewtons
from certs.rules.derived import Derived, Given, Source, plain, round_down, trimmed
from certs.rules.sling_legs import ROUNDED_DOWN, SINGLE_STRAIGHT, LegArrangement, LegFactor
from certs.rules.specification_row import source_of
from certs.rules.termination import STEEL_CORES, Efficiency, TerminationKind
from inventory.rules.refusal import Refusal
from inventory.rules.rope_designation import RopeDesignation

GRAVITY_M_S2 = Decimal("9.81")
RATED_GRADE_N_MM2 = 1770

SLING_FORMULA = Source("EN 13414-1, formula for the working load limit", "2003", "two-sources")
GRADE_CAP = Source("EN 13414-1, guidance note and 5.3", "2003", "read")


# The first word of a printed configuration; three and four legs share their rows.
_LEGS: Mapping[str, frozenset[LegArrangement]] = {
    "1-leg": frozenset({LegArrangement.ONE_LEG}),
    "2-leg": frozenset({LegArrangement.TWO_LEGS}),
    "3/4-leg": frozenset({LegArrangement.THREE_LEGS, LegArrangement.FOUR_LEGS}),
    "endless": frozenset({LegArrangement.ENDLESS_CHOKE}),
}


class MarkedTooHigh(Refusal):
    """A load to be marked that lies above what governs."""


@dataclass(frozen=True, slots=True)
class Coefficient:
    """The coefficient of utilisation Zp: breaking force of the ended rope over working load."""

    value: Decimal
    source: Source


@dataclass(frozen=True, slots=True)
class PublishedLoad:
    """A row of a published working load table, in tonnes, as printed."""

    diameter_mm: Decimal
    configuration: str
    legs: frozenset[LegArrangement]
    leg_factor: Decimal
    wll_t: Decimal
    source: Source

    @classmethod
    def read(cls, row: Mapping[str, str]) -> "PublishedLoad":
        """Read a row of the published table."""
        return cls(
            diameter_mm=Decimal(row["nominal_diameter_mm"]),
            configuration=row["configuration"],
            legs=_LEGS[row["configuration"].split()[0]],
            leg_factor=Decimal(row["leg_factor_KL"]),
            wll_t=Decimal(row["wll_t_printed"]),
            source=source_of(row),
        )


@dataclass(frozen=True, slots=True)
class Rating:
    """The formula value and the published one, kept apart, and the lower, which governs."""

    formula: Derived
    published: PublishedLoad | None

    @property
    def governing_t(self) -> Decimal:
        """Give the load in tonnes above which nothing may be marked."""
        if self.published is None:
            return self.formula.stated
        return min(self.formula.stated, self.published.wll_t)

    @property
    def governed_by(self) -> str:
        """Say whether the formula or the published table governs."""
        if self.published is not None and self.published.wll_t < self.formula.stated:
            return "published"
        return "formula"


SLING_COEFFICIENT = Coefficient(Decimal(5), SLING_FORMULA)


def cap_grade(certified: Derived, *, grade: str) -> Derived:
    """Give the force in kN that a sling is rated on: no more than grade 1770 would give.

    The basis of the certified force is scaled by 1770 / Rr; a certified force that is lower still
    stays. Raises Refusal for a US grade name.
    """
    if not grade.isdecimal():
        message = (
            f"EN 13414-1 rates slings by metric grade; {grade} is a US name, "
            "and names are not converted."
        )
        raise Refusal(message, field="grade")
    held = in_kilonewtons(certified)
    if int(grade) <= RATED_GRADE_N_MM2:
        return held
    basis = in_kilonewtons(held.rests_on[0]) if held.rests_on else held
    at_cap_kn = basis.stated * RATED_GRADE_N_MM2 / Decimal(grade)
    rated_kn = min(held.stated, round_down(at_cap_kn))
    return Derived(
        quantity="breaking force for rating a sling",
        symbol="Frat",
        formula="Frat = min(Fcert, Fbas Rcap / Rr)",
        inputs=(
            Given("Fcert", certified.quantity, plain(held.stated), "kN"),
            Given("Fbas", basis.quantity, plain(basis.stated), "kN"),
            Given("Rcap", "highest grade a sling is rated on", "1770", "N/mm²", GRADE_CAP),
            Given("Rr", "rope grade", grade, "N/mm²"),
        ),
        source=GRADE_CAP,
        unrounded=min(held.stated, at_cap_kn),
        stated=rated_kn,
        unit="kN",
        rounding=ROUNDED_DOWN,
        basis=f"grade {grade} rated as {RATED_GRADE_N_MM2}",
        rests_on=(held,),
        remarks=("Read in the 2003 edition: check the amendment in force.",),
    )


def working_load(
    breaking_force: Derived,
    *,
    end: Efficiency,
    legs: LegFactor = SINGLE_STRAIGHT,
    coefficient: Coefficient = SLING_COEFFICIENT,
) -> Derived:
    """Give the working load limit in tonnes as Fmin KT KL / (Zp g), rounded down.

    `end` is the weakest termination. For a sling give the force from `cap_grade`; an assembly
    that is no sling brings a coefficient with its own source. Raises Refusal for a coefficient
    below one.
    """
    if coefficient.value < 1:
        message = "A coefficient of utilisation below one would load the rope beyond breaking."
        raise Refusal(message, field="coefficient")
    force = in_kilonewtons(breaking_force)
    unrounded = force.stated * end.kt * legs.factor / (coefficient.value * GRAVITY_M_S2)
    zp = trimmed(coefficient.value)
    return Derived(
        quantity="working load limit",
        symbol="WLL",
        formula=f"WLL = {force.symbol} KT KL / (Zp g)",
        inputs=(
            Given(force.symbol, force.quantity, plain(force.stated), "kN"),
            Given("KT", f"weakest end: {end.text}", plain(end.kt), "", end.source),
            Given("KL", legs.text, trimmed(legs.factor), "", legs.source),
            Given("Zp", "coefficient of utilisation", zp, "", coefficient.source),
            Given("g", "acceleration of free fall", trimmed(GRAVITY_M_S2), "m/s²"),
        ),
        source=coefficient.source,
        unrounded=unrounded,
        stated=round_down(unrounded),
        unit="t",
        rounding=ROUNDED_DOWN,
        basis=f"{legs.text}; {force.basis}",
        rests_on=(force,),
    )


def published_load(
    designation: RopeDesignation,
    *,
    ends: frozenset[TerminationKind],
    legs: LegFactor,
    rows: Iterable[PublishedLoad],
) -> PublishedLoad | None:
    """Give the published row for a sling, or None where the table does not speak of it.

    EN 13414-1:2003 Table 4 is for ferrule-secured eyes on a rope with steel core of grade 1770;
    a higher grade is rated as 1770 and may be read from it too.
    """
    if ends != {TerminationKind.FERRULE_SECURED_EYE} or not _is_in_table(designation):
        return None
    fitting = (
        row
        for row in rows
        if row.diameter_mm == designation.diameter_mm
        and row.leg_factor == legs.factor
        and legs.legs in row.legs
    )
    return next(fitting, None)


def check_marked(marked_t: Decimal, rating: Rating) -> None:
    """Refuse a marked load above the governing value, or not above nought.

    Raises MarkedTooHigh or Refusal.
    """
    if marked_t <= 0:
        message = "A marked working load limit must be above nought."
        raise Refusal(message, field="marked_kg")
    if marked_t > rating.governing_t:
        message = (
            f"{trimmed(marked_t)} t may not be marked: the {rating.governed_by} value allows "
            f"{trimmed(rating.governing_t)} t."
        )
        raise MarkedTooHigh(message, field="marked_kg")


def _is_in_table(designation: RopeDesignation) -> bool:
    has_steel_core = designation.core != "" and designation.core in STEEL_CORES
    is_rated_as_1770 = designation.grade.isdecimal() and int(designation.grade) >= RATED_GRADE_N_MM2
    return has_steel_core and is_rated_as_1770
