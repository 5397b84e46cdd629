import pytest

from certs.queries.claimable import pieces_to_certify, things_to_label
from certs.services.tags import issue_tag
from inventory.rules.refusal import Refusal
from tests.certs.papers import given_cut_length_draft
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_order_line,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)


def test_pieces_of_a_reel_without_samples_and_what_is_certified(db):
    reel = given_reel()
    first, second = given_piece(reel=reel), given_piece(reel=reel)
    given_sample(reel=reel)
    given_cut_length_draft(first)
    assert pieces_to_certify(reel.code) == [second]


def test_pieces_of_a_delivery_and_of_an_order(db):
    line = given_order_line(length_m=50)
    piece = given_piece(length_m=50, order_line=line)
    delivery = given_delivery(piece)
    assert pieces_to_certify(delivery.code) == pieces_to_certify(line.order.code) == [piece]


@pytest.mark.parametrize("code", ["R-00009", "X-1", "", "nonsense"])
def test_another_code_is_refused(code, db):
    with pytest.raises(Refusal, match="is no reel"):
        pieces_to_certify(code)


def test_things_to_label_come_in_their_order_and_once(db):
    piece, assembly = given_piece(), given_assembly()
    codes = [assembly.code, piece.code, piece.reel.code]
    assert things_to_label(codes) == [assembly, piece]


def test_what_is_scanned_from_a_tag_is_what_hangs_on_it(db):
    piece, assembly = given_piece(), given_assembly()
    tags = [issue_tag(**on, by=given_person(), at=MOMENT) for on in
            ({"piece": piece}, {"assembly": assembly})]  # fmt: skip
    scanned = [f"HTTPS://ROPE.EXAMPLE/T/{tags[0].code}", tags[1].code]
    assert things_to_label([*scanned, "p-1"]) == [piece, assembly]


def test_a_code_without_label_is_refused_at_its_field(db):
    with pytest.raises(Refusal) as refusal:
        things_to_label(["H-00001"])
    assert refusal.value.field == "things"
