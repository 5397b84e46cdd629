from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.finding import Verdict
from certs.rules.proof_load import proof_load
from certs.rules.proof_reached import proof_reached
from tests.certs.rules.tables import PROOF_LOADS

BY_KEY = {row.key: row for row in PROOF_LOADS.values() if row.key}
TWICE, TUCKED, STATIC = (
    BY_KEY["sling_mechanical_splice"],
    BY_KEY["sling_hand_tucked"],
    BY_KEY["sling_accessory_static"],
)


def found(row, proved_n, rated=("1", "2"), *, is_provisional=False):
    asked = [proof_load(rated_t=Decimal(t), row=row, ends=frozenset()) for t in rated]
    return proof_reached(
        proved_n=proved_n, peak_n=proved_n, row=row, asked=asked, is_provisional=is_provisional
    )


# ASME B30.9 as cited on a US test form (read): 2 x 1 t x 9.81 = 19.62 kN, 2 x 2 t: 39.24 kN;
# hand tucked at most 1.25 x: 12.2625 and 24.525 kN, cut to the newton. All by hand.
@pytest.mark.parametrize(
    ("row", "proved_n", "verdict"),
    [
        pytest.param(TWICE, 39_240, Verdict.AGREE, id="reaches-the-most"),
        pytest.param(TWICE, 39_239, Verdict.CANNOT_SAY, id="depends-on-the-angle"),
        pytest.param(TWICE, 19_620, Verdict.CANNOT_SAY, id="reaches-the-least"),
        pytest.param(TWICE, 19_619, Verdict.DISAGREE, id="below-all"),
        pytest.param(TUCKED, 12_262, Verdict.AGREE, id="passes-no-ceiling"),
        pytest.param(TUCKED, 12_263, Verdict.CANNOT_SAY, id="passes-the-least-ceiling"),
        pytest.param(TUCKED, 24_526, Verdict.DISAGREE, id="passes-every-ceiling"),
    ],
)
def test_a_load_is_held_against_every_band(row, proved_n, verdict):
    assert found(row, proved_n).verdict is verdict


# 2006/42/EC Annex I 4.1.2.3, from memory: 1.5 x 1 t x 9.81 = 14.715 kN.
def test_what_is_from_memory_warns_and_does_not_reject():
    finding = found(STATIC, 10_000, rated=("1",))
    assert finding.verdict is Verdict.CANNOT_SAY
    assert "14.715 kN is asked for" in finding.text
    assert "from memory" in finding.text


def test_a_provisional_rating_rejects_nothing():
    assert found(TWICE, 1, is_provisional=True).verdict is Verdict.CANNOT_SAY


def test_of_one_band_there_is_no_doubt_about_the_angle():
    assert found(TWICE, 19_620, rated=("1",)).text == (
        "19.62 kN was put on; at least 19.62 kN is asked for."
    )


def test_no_load_asked_for_is_a_mistake_of_the_caller():
    with pytest.raises(ValueError, match="empty"):
        found(TWICE, 1, rated=())


@given(load_n=st.integers(1, 60_000), more_n=st.integers(0, 60_000))
def test_more_load_never_makes_reaching_worse_nor_a_ceiling_better(load_n, more_n):
    order = [Verdict.DISAGREE, Verdict.CANNOT_SAY, Verdict.AGREE]
    low, high = (order.index(found(TWICE, n).verdict) for n in (load_n, load_n + more_n))
    assert low <= high
    low, high = (order.index(found(TUCKED, n).verdict) for n in (load_n, load_n + more_n))
    assert low >= high
