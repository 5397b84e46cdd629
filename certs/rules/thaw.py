"""Reads a derivation back from the plain form that was frozen with a record or a certificate.

Nothing is derived anew: what was true of it when it was frozen is what is told.
"""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from certs.rules.derived import Derived, Given, Source


def thawed(kept: Mapping[str, Any]) -> Derived:
    """Give the derivation that `Derived.as_json` wrote."""
    return Derived(
        quantity=kept["quantity"],
        symbol=kept["symbol"],
        formula=kept["formula"],
        inputs=tuple(_given(one) for one in kept["inputs"]),
        source=_source(kept["source"]),
        unrounded=Decimal(kept["unrounded"]),
        stated=Decimal(kept["stated"]),
        unit=kept["unit"],
        rounding=kept["rounding"],
        basis=kept["basis"],
        rests_on=tuple(thawed(one) for one in kept["rests_on"]),
        remarks=tuple(kept["remarks"]),
        governed_by=kept["governed_by"],
    )


def _given(kept: Mapping[str, Any]) -> Given:
    source = kept["source"]
    return Given(
        symbol=kept["symbol"],
        name=kept["name"],
        value=kept["value"],
        unit=kept["unit"],
        source=_source(source) if source else None,
    )


def _source(kept: Mapping[str, str]) -> Source:
    return Source(
        name=kept["name"],
        edition=kept["edition"],
        confidence=kept["confidence"],
        note=kept["note"],
    )
