"""Says a working load limit in words: legs, angle, convention, and formula beside printed table.

The same words stand on page, paper and tag, so that no load is ever read without its convention.
"""

from certs.queries.sling_ratings import RatedLoad
from certs.rules.marked_load import difference_pct
from certs.rules.sling_legs import AngleConvention
from certs.rules.us_rating import in_pounds

NOT_PRINTED = "By formula; no printed value is held to compare it with"
REMOVED = (
    "By formula; the printed tables of 29 CFR 1910.184 were removed in 2011 and 2012"
    " (76 FR 33590, 77 FR 23117)"
)
_LESS, _MORE = "\N{MINUS SIGN}", "+"


def legs_and_convention(load: RatedLoad) -> str:
    """Name legs and angle, and by whose convention the load is rated."""
    legs = load.legs.text
    return f"{legs[:1].upper()}{legs[1:]}; {load.legs.convention.words}"


def words_of(load: RatedLoad) -> str:
    """Say how a load came about, in whole sentences without the last full stop."""
    return f"{legs_and_convention(load)}. {_beside(load)}"


def difference_text(load: RatedLoad) -> str:
    """Say by how much the printed value lies off the formula, signed; empty without one."""
    difference = difference_pct(load.rating)
    if difference is None:
        return ""
    sign = _LESS if difference < 0 else _MORE
    return f"{sign}{abs(difference)} %"


def _beside(load: RatedLoad) -> str:
    formula, published = load.rating.formula, load.rating.published
    if load.legs.convention is AngleConvention.FROM_HORIZONTAL:
        return f"{REMOVED}. {in_pounds(load.rating.governing_t).removesuffix('.')}"
    if published is None:
        return NOT_PRINTED
    return (
        f"Lower of formula, {formula.text}, and printed table, {published.wll_t} t"
        f" ({published.source.text}), which lies {difference_text(load)} off it"
    )
