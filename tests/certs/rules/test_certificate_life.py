"""Moves of a certificate, each pair written out; corrections: ISO/IEC 17025:2017 7.8.8."""

from itertools import product

import pytest

from certs.rules.certificate_life import CertificateState, check_move, may_move
from inventory.rules.refusal import Refusal

ALLOWED = {("draft", "issued"), ("issued", "superseded"), ("issued", "withdrawn")}
PAIRS = [
    pytest.param(frm, to, id=f"{frm} to {to}") for frm, to in product(CertificateState, repeat=2)
]


@pytest.mark.parametrize(("frm", "to"), PAIRS)
def test_every_move(frm, to):
    assert may_move(frm=frm, to=to) == ((frm.value, to.value) in ALLOWED)


@pytest.mark.parametrize(("frm", "to"), sorted(ALLOWED))
def test_an_allowed_move_passes(frm, to):
    assert check_move(CertificateState(frm), CertificateState(to)) is None


@pytest.mark.parametrize(
    ("frm", "words"),
    [
        ("draft", "can only become issued"),
        ("issued", "can only become superseded or withdrawn"),
        ("superseded", "that is its last state"),
        ("withdrawn", "that is its last state"),
    ],
)
def test_a_refused_move_says_what_is_possible(frm, words):
    with pytest.raises(Refusal, match=words) as refused:
        check_move(CertificateState(frm), CertificateState.DRAFT)
    assert refused.value.field == "state"
