"""The minimum breaking force of a rope: from a factor, from a table, declared, and certified.

It decides how the number is made and rounded, and which of several governs. Whether a factor or
row speaks of the rope at all is decided by `rope_match`.
"""

from decimal import Decimal

from certs.rules.derived import Derived, Given, Source, plain, round_half_up, trimmed
from certs.rules.rope_match import NoBasis, check_row, fitting_class, metric_grade
from certs.rules.specification_row import Factor, TableRow
from inventory.rules.rope_designation import RopeDesignation
from inventory.rules.units import N_PER_UNIT

QUANTITY = "minimum breaking force"
HALF_UP = "three significant figures, half up"
AS_PRINTED = "none: the printed figure"
AS_GIVEN = "none: as given"
TO_NEWTON = "down to the whole newton"
# The tables write short ton where the unit rules write tonf (short).
NEWTONS = {**N_PER_UNIT, "short ton": N_PER_UNIT["tonf (short)"]}
# EN 12385-2 clause 3.10 gives the relation.
FACTOR_FORMULA = "Fmin = K d² Rr / 1000"


def derive_from_factor(designation: RopeDesignation, factor: Factor) -> Derived:
    """Give Fmin in kN as K d² Rr / 1000, d in mm and Rr in N/mm2 (EN 12385-2 clause 3.10).

    Raises NoBasis for a US grade name, and where class or core differ.
    """
    found = fitting_class(designation, factor)
    grade_n_mm2 = metric_grade(designation)
    unrounded = factor.K * designation.diameter_mm**2 * grade_n_mm2 / 1000
    return Derived(
        quantity=QUANTITY,
        symbol="Fmin",
        formula=FACTOR_FORMULA,
        inputs=(
            Given(
                "K", f"breaking force factor of {_make(factor)}", plain(factor.K), "", factor.source
            ),
            Given("d", "nominal diameter", trimmed(designation.diameter_mm), "mm"),
            Given("Rr", "rope grade", designation.grade, "N/mm²"),
            Given("class", f"class of {designation.construction}", found.name, "", found.source),
        ),
        source=factor.source,
        unrounded=unrounded,
        stated=round_half_up(unrounded),
        unit="kN",
        rounding=HALF_UP,
        basis=f"factor K = {factor.K} of {_make(factor)}",
        remarks=_note(factor.source),
    )


def derive_from_table(designation: RopeDesignation, row: TableRow) -> Derived:
    """Give the printed force in the printed unit; nothing is recomputed.

    `in_kilonewtons` gives it in kN. Raises NoBasis where the row speaks of another rope.
    """
    remarks = check_row(designation, row)
    printed = Decimal(row.mbf)
    return Derived(
        quantity=QUANTITY,
        symbol="Fmin",
        formula="Fmin = Ftab",
        inputs=(
            Given(
                "Ftab",
                f"force printed for {row.diameter} {row.diameter_unit}, grade {row.grade}",
                row.mbf,
                row.mbf_unit,
                row.source,
            ),
        ),
        source=row.source,
        unrounded=printed,
        stated=printed,
        unit=row.mbf_unit,
        rounding=AS_PRINTED,
        basis=f"table row of {row.name}",
        remarks=(*remarks, *_note(row.source)),
    )


def declared(*, force_n: int, document: str) -> Derived:
    """Give the maker's declared breaking force in kN, naming the document that declares it.

    Raises NoBasis for a force that is not above nought.
    """
    if force_n <= 0:
        message = "A declared breaking force must be above nought."
        raise NoBasis(message, field="declared_force")
    force_kn = Decimal(force_n) / 1000
    return Derived(
        quantity="breaking force declared by the maker",
        symbol="Fdec",
        formula="Fdec = F",
        inputs=(Given("F", "declared breaking force", trimmed(force_kn), "kN"),),
        source=Source(name=document, confidence="declared by the maker"),
        unrounded=force_kn,
        stated=force_kn,
        unit="kN",
        rounding=AS_GIVEN,
        basis=f"declared by the maker in {document}",
    )


def in_kilonewtons(force: Derived) -> Derived:
    """Give a force in kN, converted exactly and cut to the whole newton; kN stays as it is."""
    if force.unit == "kN":
        return force
    newtons_each = NEWTONS[force.unit]
    exact_kn = force.stated * newtons_each / 1000
    return Derived(
        quantity=f"{force.quantity} in kilonewtons",
        symbol=force.symbol,
        formula=f"{force.symbol} = F c / 1000",
        inputs=(
            Given("F", force.basis, plain(force.stated), force.unit),
            Given("c", f"newtons in one {force.unit}", trimmed(newtons_each), "N"),
        ),
        source=force.source,
        unrounded=exact_kn,
        stated=Decimal(whole_newtons(force)) / 1000,
        unit="kN",
        rounding=TO_NEWTON,
        basis=force.basis,
        rests_on=(force,),
    )


def whole_newtons(force: Derived) -> int:
    """Give the stated force in newtons, cut to the whole newton so that nothing is overstated."""
    return int(force.stated * NEWTONS[force.unit])


def certified_breaking_force(
    *,
    basis: Derived,
    declared_n: int | None = None,
    derated_n: int | None = None,
    derating_test: str = "",
) -> Derived:
    """Give the certified minimum breaking force in kN: the lowest of what is known.

    These are the basis, the maker's declared value and the force to which a failed breaking test,
    named by `derating_test`, de-rates the rope. The last two are stated as given, never rounded.
    ISO 10425:2003 (API Spec 9A) 5.1.4 asks for the de-rating.
    Raises NoBasis for a force that is not above nought.
    """
    converted = in_kilonewtons(basis)
    inputs = [Given("Fbas", f"basis: {basis.basis}", plain(converted.stated), "kN", basis.source)]
    values = {"basis": converted.stated}
    words = {"basis": basis.basis}
    if declared_n is not None:
        values["declared"] = _force_kn(declared_n)
        words["declared"] = "the maker's declared value"
        inputs.append(Given("Fdec", words["declared"], trimmed(values["declared"]), "kN"))
    if derated_n is not None:
        values["derated"] = _force_kn(derated_n)
        words["derated"] = f"de-rated by breaking test {derating_test}".rstrip()
        inputs.append(Given("Ftest", words["derated"], trimmed(values["derated"]), "kN"))
    governing = min(values, key=lambda name: values[name])
    return Derived(
        quantity=f"certified {QUANTITY}",
        symbol="Fcert",
        formula=f"Fcert = min({', '.join(given.symbol for given in inputs)})",
        inputs=tuple(inputs),
        source=basis.source,
        unrounded=values[governing],
        stated=values[governing],
        unit="kN",
        rounding=AS_GIVEN,
        basis=words[governing],
        rests_on=(converted,),
        governed_by=governing,
    )


def _force_kn(force_n: int) -> Decimal:
    if force_n <= 0:
        message = "A breaking force must be above nought."
        raise NoBasis(message)
    return Decimal(force_n) / 1000


def _make(factor: Factor) -> str:
    core = "" if factor.core in ("", "-") else f" with core {factor.core}"
    return f"class {factor.rope_class}{core}"


def _note(source: Source) -> tuple[str, ...]:
    return (f"Note: {source.note}",) if source.note else ()
