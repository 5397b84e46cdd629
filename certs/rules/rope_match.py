"""Whether a factor or a table row speaks of this rope, and what is known near it.

It compares size, construction, core and grade, and refuses in words what does not fit. What a
fitting row then gives is left to `breaking_force` and `length_mass`.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import groupby

from certs.rules.derived import trimmed
from certs.rules.rope_class import RopeClass, constructions_of, rope_class, why_unclassed
from certs.rules.specification_row import Factor, TableRow
from inventory.rules.refusal import Refusal
from inventory.rules.rope_designation import US_GRADES, RopeDesignation

NO_CORE = "-"
# Natural and synthetic fibre cores are kinds of fibre core (from memory of EN 12385-2).
CORE_FAMILY = {"NFC": "FC", "SFC": "FC", "7x7 IWRC": "IWRC", "": NO_CORE}
# Tables that count the core as a strand: 7x7 is six strands of seven on a strand core.
COUNTED_WITH_CORE = {"7x7": "6x7", "7x19": "6x19M"}


class NoBasis(Refusal):
    """No breaking force or mass can be derived for this rope in this way; the text says why."""


def fitting_class(designation: RopeDesignation, factor: Factor) -> RopeClass:
    """Give the class the rope shares with the factor.

    Raises NoBasis when the construction has no class, another class, or another core.
    """
    found = rope_class(designation.construction)
    if found is None:
        message = f"{_sentence(why_unclassed(designation.construction))}."
        raise NoBasis(message, field="construction")
    if found.name != factor.rope_class:
        message = (
            f"{designation.construction} belongs to class {found.name}, "
            f"but the factor is for class {factor.rope_class}."
        )
        raise NoBasis(message, field="construction")
    if not _same_core(designation.core, factor.core):
        message = (
            f"The rope has core {designation.core or 'none'}, "
            f"but the factor is for core {factor.core}."
        )
        raise NoBasis(message, field="core")
    return found


def check_row(designation: RopeDesignation, row: TableRow) -> tuple[str, ...]:
    """Refuse a table row that speaks of another rope; give what cannot be compared as remarks.

    Raises NoBasis naming the first part that differs.
    """
    if row.diameter_mm != designation.diameter_mm:
        message = (
            f"The rope is {designation.diameter} {designation.diameter_unit}, "
            f"the row is for {row.diameter} {row.diameter_unit}."
        )
        raise NoBasis(message, field="diameter")
    if not is_same_make(designation, row):
        message = (
            f"The rope is {_make(designation.construction, designation.core)}, "
            f"the row is for {_make(row.construction, row.core)}."
        )
        raise NoBasis(message, field="construction")
    if not _states_grade(row):
        remark = (
            f"The table gives no tensile grade. Its column is {row.grade}, finish {row.finish}: "
            "check that the rope was ordered to this specification."
        )
        return (remark,)
    if row.grade != designation.grade:
        message = (
            f"The rope is grade {designation.grade}, the row is for {row.grade}. "
            "US and metric grades are not converted into each other."
        )
        raise NoBasis(message, field="grade")
    return ()


def metric_grade(designation: RopeDesignation) -> Decimal:
    """Give the tensile grade in N/mm2.

    Raises NoBasis for a US grade name, which is no number and is never made into one.
    """
    if not designation.grade.isdecimal():
        message = (
            f"Grade {designation.grade} is a name, not a tensile strength: "
            f"the factor formula needs a number. For {trimmed(designation.diameter_mm)} mm "
            "use a published table, or the maker's declared value."
        )
        raise NoBasis(message, field="grade")
    return Decimal(designation.grade)


def is_same_make(designation: RopeDesignation, row: TableRow) -> bool:
    """Say whether construction and core agree, with cores counted as strands set right."""
    construction = COUNTED_WITH_CORE.get(row.construction, row.construction)
    return construction == designation.construction and _same_core(designation.core, row.core)


def fitting_factors(designation: RopeDesignation, factors: Iterable[Factor]) -> tuple[Factor, ...]:
    """List the factors that speak of this rope."""
    found = rope_class(designation.construction)
    if found is None:
        return ()
    return tuple(
        factor
        for factor in factors
        if factor.rope_class == found.name and _same_core(designation.core, factor.core)
    )


def fitting_rows(designation: RopeDesignation, rows: Iterable[TableRow]) -> tuple[TableRow, ...]:
    """List the table rows that speak of this rope."""
    return tuple(row for row in rows if _fits(designation, row))


def nearby(
    designation: RopeDesignation, factors: Sequence[Factor], rows: Sequence[TableRow]
) -> tuple[str, ...]:
    """Tell what is held near a combination that nothing is held for.

    Why the construction has no class; the factors of its class, whatever the core; the classes
    with the same number of strands; and the published tables of this make with their sizes.
    """
    return (
        *_class_lines(designation, factors),
        *_table_lines(designation, rows),
    )


def _class_lines(designation: RopeDesignation, factors: Sequence[Factor]) -> tuple[str, ...]:
    found = rope_class(designation.construction)
    if found is not None:
        return tuple(
            f"factor held: {_make(factor.rope_class, factor.core)}, K = {factor.K}"
            for factor in factors
            if factor.rope_class == found.name
        )
    strands = designation.construction.partition("x")[0]
    classes = dict.fromkeys(
        factor.rope_class for factor in factors if factor.rope_class.partition("x")[0] == strands
    )
    return (
        why_unclassed(designation.construction),
        *(f"class held: {name} ({', '.join(constructions_of(name))})" for name in classes),
    )


def _table_lines(designation: RopeDesignation, rows: Sequence[TableRow]) -> tuple[str, ...]:
    same_make = (row for row in rows if is_same_make(designation, row))
    sheets = groupby(same_make, key=lambda row: (row.name, row.grade, row.diameter_unit))
    sizes: dict[tuple[str, str, str], list[TableRow]] = {}
    for key, group in sheets:
        sizes.setdefault(key, []).extend(group)
    return tuple(
        f"table held: {name}, grade {grade}, {_span(held)} {unit}"
        for (name, grade, unit), held in sizes.items()
    )


def _span(rows: Sequence[TableRow]) -> str:
    smallest = min(rows, key=lambda row: row.diameter_mm)
    largest = max(rows, key=lambda row: row.diameter_mm)
    if smallest.diameter_mm == largest.diameter_mm:
        return smallest.diameter
    return f"{smallest.diameter} to {largest.diameter}"


def _fits(designation: RopeDesignation, row: TableRow) -> bool:
    try:
        check_row(designation, row)
    except NoBasis:
        return False
    return True


def _states_grade(row: TableRow) -> bool:
    return row.grade.isdecimal() or row.grade in US_GRADES


def _same_core(one: str, other: str) -> bool:
    return CORE_FAMILY.get(one, one) == CORE_FAMILY.get(other, other)


def _make(construction: str, core: str) -> str:
    return construction if core in ("", NO_CORE) else f"{construction}-{core}"


def _sentence(clause: str) -> str:
    return clause[:1].upper() + clause[1:]
