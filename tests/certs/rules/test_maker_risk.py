import math
from decimal import Decimal
from statistics import NormalDist

import pytest

from certs.rules.derived import Gap
from certs.rules.maker_record import Result, Standing, maker_figures
from certs.rules.maker_risk import MakerRisk, maker_risk

SPREAD = ("1.00", "1.02", "1.04", "1.06", "1.08", "1.10", "1.03", "1.05")


def risk(percent, ratios=SPREAD):
    figures = maker_figures(
        [Result(Decimal(ratio), Standing.MEETS, "K-1") for ratio in ratios],
        coverage=Decimal("0.95"),
        confidence=Decimal("0.95"),
    )
    return maker_risk(figures, expanded_percent=Decimal(percent))


# JCGM 106:2012, 9.5, by a sum apart from the integral of the program: prior times the chance of
# the wrong decision, in ten thousand steps.
@pytest.mark.parametrize("percent", ["1", "2", "4"])
def test_risks_are_those_of_a_plain_sum(percent):
    found = risk(percent)
    values = [float(one) for one in SPREAD]
    mean = sum(values) / len(values)
    u = float(percent) / 200
    s2 = sum((one - mean) ** 2 for one in values) / (len(values) - 1)
    prior, noise = NormalDist(mean, math.sqrt(s2 - u**2)), NormalDist(0, u)
    step = 0.6 / 10_000
    places = [1 + (n + 0.5) * step for n in range(-5000, 5000)]
    weak = sum(prior.pdf(x) * (1 - noise.cdf(1 - x)) for x in places if x < 1) * step
    strong = sum(prior.pdf(x) * noise.cdf(1 - x) for x in places if x >= 1) * step
    assert float(found.passed_too_weak.unrounded) == pytest.approx(1000 * weak, abs=0.01)
    assert float(found.failed_though_strong.unrounded) == pytest.approx(1000 * strong, abs=0.01)


def test_it_is_said_of_a_thousand_reels():
    found = risk("2")
    assert isinstance(found, MakerRisk)
    assert found.passed_too_weak.quantity.startswith("of a thousand reels like these")
    assert found.passed_too_weak.remarks


def test_spread_of_the_test_alone_says_nothing_of_the_rope():
    gap = risk("8")
    assert isinstance(gap, Gap)
    assert "vary no more" in gap.reason
    assert isinstance(risk("0"), Gap)
