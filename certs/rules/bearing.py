"""Whether what a sling will bear on is thick enough for its rating.

The printed working load limits take a pin of at least two rope diameters for granted. A thinner
one is not rated here at all: how much is left between one and two diameters nobody has printed,
and at one diameter it is about half.
"""

from decimal import Decimal
from typing import Final

from certs.rules.built_sling import BuiltSling
from certs.rules.derived import Given, Source, trimmed
from certs.rules.finding import Finding, Verdict

LEAST_PIN_D: Final = 2
HALVING_PIN_D: Final = 1
PIN: Final = Source("EN 13414-1 table, pin of a soft eye, as a trade summary tells it", "", "read")

_TOPIC: Final = "Bearing"
_RULE: Final = (
    f"a pin under a soft eye at least {LEAST_PIN_D} d thick; one only one rope diameter thick about"
    " halves the limit"
)


def bearing_finding(sling: BuiltSling) -> Finding:
    """Compare what it bears on with the thickest rope in it; no reduced rating is given.

    A soft eye on less than two diameters does not agree. Of thimbles, fittings and endless slings
    no limit is held but that of one diameter, where about half is left.
    """
    diameter = max((leg.diameter_mm for leg in sling.parts), default=Decimal(0))
    least = LEAST_PIN_D * diameter
    given: tuple[Given, ...] = (Given("d", "nominal diameter", trimmed(diameter), "mm"),)
    if sling.bend_mm is None:
        text = (
            "What it will bear on is not on record: the rating is for at least"
            f" {trimmed(least)} mm."
        )
        return Finding(_TOPIC, Verdict.CANNOT_SAY, text, _RULE, PIN, given=given)
    given = (*given, Given("D", "thinnest bearing point", str(sling.bend_mm), "mm"))
    told = f"It will bear on {sling.bend_mm} mm; the rating is for at least {trimmed(least)} mm."
    if sling.bend_mm >= least:
        return Finding(_TOPIC, Verdict.AGREE, told, _RULE, PIN, given=given)
    if sling.has_soft_eye or sling.bend_mm <= HALVING_PIN_D * diameter:
        text = (
            f"{told} One rope diameter about halves it, and nothing is printed between: no rating"
            " is given. Use a thicker pin, or have a competent person rate it."
        )
        return Finding(_TOPIC, Verdict.DISAGREE, text, _RULE, PIN, given=given)
    text = f"{told} The limit is for soft eyes; none is held for these ends."
    return Finding(_TOPIC, Verdict.CANNOT_SAY, text, _RULE, PIN, given=given)
