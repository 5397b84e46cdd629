"""How often one breaking test would decide wrongly about rope like that of a maker's record.

The record gives the spread of what was measured; the spread of the rope itself is what remains
when the uncertainty of the test is taken from it. The integral is that of `global_risk`; the rule
is the standard's own: measured at least the force required.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Final

from certs.rules.derived import Derived, Gap, Given, Source, plain, trimmed
from certs.rules.global_risk import Limits, global_risk
from certs.rules.maker_record import MakerFigures

JCGM_106: Final = Source(
    name="JCGM 106:2012, 9.5 (global risks)",
    confidence="two-sources",
    note="The spread of the rope is that of the record less the uncertainty of the test.",
)
COVERAGE_FACTOR: Final = 2
QUANTITY: Final = "risk of one breaking test"
NORMAL: Final = (
    "Supposes that reels vary as a normal population with the mean and spread of this record: "
    "with few results both are known badly, and the risk with them."
)

_PLACE: Final = Decimal("0.1")
_THOUSAND: Final = 1000


@dataclass(frozen=True, slots=True)
class MakerRisk:
    """Of a thousand reels: those too weak and passed, and those strong enough and failed."""

    passed_too_weak: Derived
    failed_though_strong: Derived


def maker_risk(figures: MakerFigures, *, expanded_percent: Decimal) -> MakerRisk | Gap:
    """Give both risks for a test of expanded uncertainty U, k = 2, in per cent of the force.

    A gap where the spread of the record is no more than the test alone would make.
    """
    spread = figures.tolerance.rests_on[0]
    mean = spread.rests_on[0]
    u = expanded_percent / COVERAGE_FACTOR / 100
    own = spread.unrounded**2 - u**2
    if own <= 0 or u <= 0:
        reason = (
            "The results of this record vary no more than such a test would make them vary by "
            "itself: nothing can be said of the spread of the rope."
        )
        return Gap(QUANTITY, reason, JCGM_106)
    sd = own.sqrt()
    risk = global_risk(mean=mean.unrounded, sd=sd, u=u, limits=Limits.of(lower=Decimal(1)))
    inputs = (
        Given("m", mean.quantity, trimmed(mean.stated), ""),
        Given("s", spread.quantity, trimmed(spread.stated), ""),
        Given("U", "expanded uncertainty of a test, k = 2", trimmed(expanded_percent), "%"),
        Given("z", "spread of the rope itself, √(s² - u²) with u = U / 2", _six(sd), ""),
    )
    return MakerRisk(
        _of_thousand("below the required force, yet passed by its test", risk.consumers, inputs),
        _of_thousand("at least the required force, yet failed", risk.producers, inputs),
    )


def _of_thousand(what: str, share: float, inputs: tuple[Given, ...]) -> Derived:
    unrounded = Decimal(repr(share)) * _THOUSAND
    return Derived(
        quantity=f"of a thousand reels like these, {what}",
        symbol="N",
        formula="N = 1000 × the integral of the prior times the chance of the wrong decision",
        inputs=inputs,
        source=JCGM_106,
        unrounded=unrounded,
        stated=unrounded.quantize(_PLACE, rounding=ROUND_HALF_UP),
        unit="",
        rounding="to one decimal, half up",
        basis="accepted where measured at least the required force, without a guard band",
        remarks=(NORMAL,),
    )


def _six(value: Decimal) -> str:
    return plain(value.quantize(Decimal("0.000001"), rounding=ROUND_HALF_UP))
