"""The tables against which the wires of a rope are judged, as the rules read them."""

from certs.models import ForceFactor, TabulatedForce, WireBand
from certs.queries.specification_columns import WIRE_BANDS
from certs.queries.specification_rows import factor_of
from certs.rules import rope_grade
from certs.rules.rope_match import fitting_factors
from certs.rules.wire_tests import Tables
from inventory.rules.designation import RopeDesignation


def wire_tables(rope: RopeDesignation) -> Tables:
    """Give the bands of wire strength, the metric grades tabulated, and the factor of the rope."""
    factors = [factor_of(row) for row in ForceFactor.objects.order_by("id")]
    fitting = fitting_factors(rope, factors)
    bands = WireBand.objects.order_by("id")
    return Tables(
        bands=tuple(rope_grade.WireBand.read(WIRE_BANDS.as_read(row)) for row in bands),
        grades=_tabulated_grades(),
        factor=fitting[0] if fitting else None,
    )


def _tabulated_grades() -> tuple[str, ...]:
    grades = TabulatedForce.objects.order_by("grade").values_list("grade", flat=True).distinct()
    return tuple(grade for grade in grades if grade.isdecimal())
