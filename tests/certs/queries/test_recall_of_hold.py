from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from certs.queries.recall_notices import open_notices, standings
from certs.queries.recall_of_hold import customers_reached, recall_of_hold
from certs.services.tags import issue_tag, revoke_tag
from inventory.services.holds import release_hold
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.certs.recalls import LATER, answered, given_doubt, sent, written
from tests.factories import (
    MOMENT,
    given_assembly,
    given_customer,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_hold,
    given_machine,
    given_person,
    given_piece,
    given_reel,
)


@pytest.fixture
def doubt(tables):
    return given_doubt()


def parted(hold):
    return {one.code: one for one in customers_reached(recall_of_hold(hold))}


def test_each_customer_has_just_what_he_was_delivered_of_the_stretch(doubt):
    found = parted(doubt.hold)
    assert {code: one.codes for code, one in found.items()} == {
        doubt.first.code: [doubt.piece.code, doubt.certificate.number],
        doubt.second.code: [doubt.sling.code],
    }


def test_the_metres_in_doubt_are_those_of_the_hold_alone(tables):
    reel = given_reel()
    piece = given_piece(reel=reel, from_m=30, length_m=20)
    given_delivery(piece)
    [one] = parted(given_hold(reel, from_mm=0, to_mm=40_000)).values()
    [told] = one.items[0]["pieces"]
    assert told["touched"] == [[30_000, 40_000]]
    assert told["length_mm"] == 20_000
    assert told["designation"] == reel.designation


def test_standing_tags_are_named_and_revoked_ones_are_not(doubt):
    second = issue_tag(piece=doubt.piece, by=given_person(), at=MOMENT)
    revoke_tag(tag=doubt.tag, reason="lost", by=given_person(), at=LATER)
    first = parted(doubt.hold)[doubt.first.code]
    assert first.items[0]["tags"] == [second.code]
    assert first.papers[0]["tags"] == [doubt.certificate.tags.get().code]


def test_the_tag_of_a_piece_in_a_sling_is_named_with_the_sling(db):
    reel = given_reel()
    piece = given_piece(reel=reel)
    tag = issue_tag(piece=piece, by=given_person(), at=MOMENT)
    sling = given_assembly(pieces=[piece])
    own = issue_tag(assembly=sling, by=given_person(), at=MOMENT)
    given_delivery(sling)
    [one] = parted(given_hold(reel)).values()
    assert one.items[0]["code"] == sling.code
    assert one.items[0]["tags"] == [own.code, tag.code]


def test_a_piece_on_the_paper_of_one_and_delivered_to_another_is_told_to_both(tables):
    buyer, receiver = given_customer("Who buys"), given_customer("Who receives")
    piece = given_certifiable_piece()
    paper = issued(given_cut_length_draft(piece, customer=buyer))
    given_delivery(piece, customer=receiver)
    found = parted(given_hold(piece))
    assert found[buyer.code].codes == [piece.code, paper.number]
    assert found[receiver.code].codes == [piece.code]


ON = {
    "a heat": lambda heat, _lot, _piece, _sling: heat,
    "a lot of fittings": lambda _heat, lot, _piece, _sling: lot,
    "a piece": lambda _heat, _lot, piece, _sling: piece,
    "an assembly": lambda _heat, _lot, _piece, sling: sling,
}


@pytest.mark.parametrize("on", ON.values(), ids=ON)
def test_a_hold_on_anything_that_is_made_reaches_its_customer(db, on):
    heat, lot = given_heat(), given_fitting_lot()
    piece = given_piece(reel=given_reel(heats=[heat]))
    sling = given_assembly(pieces=[piece], lot=lot)
    given_delivery(sling)
    [one] = parted(given_hold(on(heat, lot, piece, sling))).values()
    assert one.codes == [sling.code]


def test_of_a_testing_machine_nothing_is_made(db):
    assert recall_of_hold(given_hold(given_machine())) is None


def test_a_reel_of_which_nothing_left_reaches_nobody(db):
    assert parted(given_hold(given_piece().reel)) == {}


def test_what_a_letter_names_is_unwritten_no_more(doubt):
    written(doubt.hold)
    found = standings(doubt.hold, recall_of_hold(doubt.hold))
    assert [(one.customer, len(one.letters), one.unwritten.codes) for one in found] == [
        (doubt.first, 1, []),
        (doubt.second, 1, []),
    ]


def test_letters_are_open_until_answered_or_the_hold_is_released(doubt):
    first, second = written(doubt.hold)
    assert list(open_notices()) == [first, second]
    answered(sent(first))
    assert list(open_notices()) == [second]
    release_hold(
        hold=doubt.hold, reason="looked over", by=given_person(), at=LATER + timedelta(days=9)
    )
    assert not open_notices().exists()


def sold(reel, *, customers):
    for number in range(customers):
        piece = given_piece(reel=reel, length_m=1)
        given_delivery(piece, customer=given_customer(f"Customer {number}"))
    return given_hold(reel)


def test_more_customers_cost_no_more_queries(db):
    few, many = sold(given_reel(), customers=1), sold(given_reel(), customers=4)
    with CaptureQueriesContext(connection) as first:
        assert len(standings(few, recall_of_hold(few))) == 1
    with CaptureQueriesContext(connection) as second:
        assert len(standings(many, recall_of_hold(many))) == 4
    assert len(second) == len(first)
