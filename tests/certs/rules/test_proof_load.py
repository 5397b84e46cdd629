from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.proof_load import ProofRefused, proof_load
from certs.rules.termination import TerminationKind
from tests.certs.rules.tables import PROOF_LOADS

BY_KEY = {row.key: row for row in PROOF_LOADS.values() if row.key}
FERRULES = frozenset({TerminationKind.FERRULE_SECURED_EYE})
SPLICED = frozenset({TerminationKind.HAND_SPLICE, TerminationKind.SOCKET})


# ASME B30.9 on a US national-laboratory form; 29 CFR 1910.184(f)(4), 1926.251(a)(4), 1919.27,
# 1919.31 (read). 2006/42/EC Annex I 4.1.2.3 and the ILO rule are from memory.
@pytest.mark.parametrize(
    ("key", "rated_t", "proof_t", "is_provisional"),
    [
        ("sling_accessory_static", "2", "3", True),
        ("sling_mechanical_splice", "2", "4", False),
        ("sling_hand_tucked", "2", "2.5", False),
        ("welded_end_attachment", "2", "4", False),
        ("custom_accessory", "2", "2.5", False),
        ("ship_gear_fitting", "2", "4", False),
        ("single_sheave_block", "2", "8", False),
        ("multi_sheave_block", "20", "40", False),
        ("multi_sheave_block", "20.1", "40.1", False),
        ("multi_sheave_block", "40", "60", False),
        ("multi_sheave_block", "50", "75", False),
        ("derrick_or_winch", "20", "25", False),
        ("derrick_or_winch", "50", "55", False),
        ("derrick_or_winch", "60", "66", False),
        ("loose_gear", "25", "50", True),
        ("loose_gear", "50", "81", True),
    ],
)
def test_proof_force_by_regime(key, rated_t, proof_t, is_provisional):
    proof = proof_load(rated_t=Decimal(rated_t), row=BY_KEY[key], ends=FERRULES)
    assert proof.unrounded == Decimal(proof_t) * Decimal("9.81")
    assert proof.unit == "kN"
    assert proof.is_provisional is is_provisional


def test_proof_force_is_worked_in_the_open():
    row = BY_KEY["sling_mechanical_splice"]
    steps = proof_load(rated_t=Decimal("1.15"), row=row, ends=FERRULES).steps()
    assert "P = (2 × 1.15 + 0) × 9.81 = 22.563 kN → 22.563 kN" in steps[-2]


@pytest.mark.parametrize(
    ("key", "stated", "rounding"),
    [
        ("custom_accessory", "1.509", "up to the whole newton"),
        ("sling_hand_tucked", "1.508", "down to the whole newton"),
    ],
)
def test_rounding_keeps_to_the_right_side_of_the_limit(key, stated, rounding):
    proof = proof_load(rated_t=Decimal("0.123"), row=BY_KEY[key], ends=FERRULES)
    assert (str(proof.stated), proof.rounding) == (stated, rounding)


# ASME B30.9 (read): a hand-tucked splice takes 1.25 times its rated load, whatever the regime asks.
@pytest.mark.parametrize(
    "key", ["sling_accessory_static", "sling_mechanical_splice", "welded_end_attachment"]
)
def test_hand_splice_is_never_proved_above_its_limit(key):
    with pytest.raises(ProofRefused, match=r"never proved above 1\.25 times"):
        proof_load(rated_t=Decimal(2), row=BY_KEY[key], ends=SPLICED)


@pytest.mark.parametrize("key", ["sling_hand_tucked", "custom_accessory"])
def test_hand_splice_is_proved_up_to_its_limit(key):
    proof = proof_load(rated_t=Decimal(2), row=BY_KEY[key], ends=SPLICED)
    assert proof.unrounded == Decimal("24.525")


@pytest.mark.parametrize(
    ("item", "rated_t"),
    [
        pytest.param("sling proof-load tolerance on that form", "2", id="no-factor-in-the-text"),
        pytest.param("wire rope (ship cargo gear)", "2", id="sample-is-broken-instead"),
        pytest.param("custom lifting accessory", "0", id="no-load"),
    ],
)
def test_regime_without_figure_is_refused_with_its_text(item, rated_t):
    with pytest.raises(ProofRefused) as refusal:
        proof_load(rated_t=Decimal(rated_t), row=PROOF_LOADS[item], ends=FERRULES)
    assert PROOF_LOADS[item].printed in refusal.value.message


@given(st.decimals(min_value="0.01", max_value="500", places=2), st.sampled_from(sorted(BY_KEY)))
def test_proof_is_never_below_the_rated_load(rated_t, key):
    proof = proof_load(rated_t=rated_t, row=BY_KEY[key], ends=FERRULES)
    assert proof.stated + Decimal("0.001") > rated_t * Decimal("9.81")
