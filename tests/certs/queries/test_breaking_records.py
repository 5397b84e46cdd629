"""What the tests on a reel's rope amount to, and that an unsettled one blocks its papers."""

from datetime import timedelta
from decimal import Decimal

import pytest

from certs.queries.breaking_records import breaking_record_of
from certs.queries.checklist import checklist, lacking
from certs.queries.derivation import NoBasis, certified_force
from certs.queries.retests_due import retests_due
from certs.queries.strength import assembly_strength
from certs.rules.breaking_record import BreakingStanding as Standing
from certs.services.issue import CannotIssue
from certs.services.reverse_test import reverse_test
from inventory.services.rewind import rewind_reel
from inventory.services.take_back import take_back_piece
from tests.certs.claims import given_basis, given_breaking_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_cut_length_draft,
    given_documented_reel,
    issued,
)
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

DAY = MOMENT.date()
# 12 6x7-WSC 1770: 98.9 kN (K = 0.388, EN 12385-2).
ENOUGH_N, TOO_LITTLE_N = 99_000, 93_100


@pytest.fixture
def reel():
    return given_documented_reel()


def discount(reel):
    return given_breaking_test(
        sample=given_sample(reel=reel), peak_n=TOO_LITTLE_N, break_distance_mm=10
    )


@pytest.mark.parametrize("peak_n", [ENOUGH_N, TOO_LITTLE_N])
def test_no_clear_break_is_told_where_nobody_wrote_down_the_place(reel, peak_n):
    given_breaking_test(sample=given_sample(reel=reel), peak_n=peak_n, is_break_place_known=False)
    record = breaking_record_of(reel)
    assert record.standing is (Standing.PROVED if peak_n == ENOUGH_N else Standing.FAILED)
    assert "Nobody wrote down where it broke." in record.reasons[0]
    assert "grip" not in " ".join(record.reasons)


def later(reel, *, peak_n=ENOUGH_N, **said):
    return given_breaking_test(
        sample=given_sample(reel=reel),
        peak_n=peak_n,
        tested_at=MOMENT + timedelta(hours=1),
        **said,
    )


def wound(reel):
    return rewind_reel(reel=reel, from_mm=100_000, to_mm=300_000, by=given_person(), at=MOMENT)


def returned(reel):
    piece = given_piece(reel=reel, length_m=50)
    given_delivery(piece)
    return take_back_piece(
        piece=piece, is_turned=False, location="Bay 9", by=given_person(), at=MOMENT
    )


def broken(draft):
    """What the checklist says of the breaking-force tests."""
    items = [item for item in checklist(draft, on=DAY) if item.name == "Breaking-force tests"]
    return [(item.is_met, item.text) for item in items]


def test_a_failure_lowers_uncut_rope_wound_rope_returned_rope_and_pieces(reel):
    others = [wound(reel), returned(reel)]
    piece = given_piece(reel=reel, length_m=6)
    assembly = given_assembly(pieces=[piece])
    given_breaking_test(sample=given_sample(reel=reel), peak_n=TOO_LITTLE_N)
    for one in (reel, *others):
        assert certified_force(one).stated == Decimal("93.1"), one
        assert breaking_record_of(one).standing is Standing.FAILED
    (strength,) = assembly_strength(assembly).pieces
    assert strength.certified.stated == Decimal("93.1")


def test_a_failure_of_returned_rope_lowers_what_is_still_on_the_reel(reel):
    given_breaking_test(sample=given_sample(reel=returned(wound(reel))), peak_n=TOO_LITTLE_N)
    assert certified_force(reel).stated == Decimal("93.1")


def test_without_a_basis_there_is_nothing_to_weigh_against():
    with pytest.raises(NoBasis):
        breaking_record_of(given_reel())


@pytest.mark.parametrize("of", [lambda reel: reel, wound], ids=["itself", "wound from it"])
def test_an_unsettled_break_blocks_the_papers_of_the_family(reel, of):
    piece = given_piece(reel=of(reel))
    discounted = discount(reel)
    draft = given_cut_length_draft(piece)
    ((is_met, text),) = broken(draft)
    assert not is_met
    assert discounted.code in text
    assert "cut another sample" in text
    with pytest.raises(CannotIssue, match="cut another sample"):
        issued(draft)


def test_an_unsettled_break_blocks_an_assembly_too(reel):
    assembly = given_assembly(pieces=[given_piece(reel=reel, length_m=6)])
    discount(reel)
    draft = given_assembly_draft(assembly, kind="2.1")
    assert "Breaking-force tests" in {item.name for item in lacking(checklist(draft, on=DAY))}


def test_a_settled_break_blocks_nothing(reel):
    draft = given_cut_length_draft(given_piece(reel=reel))
    discounted = discount(reel)
    later(reel, retest_of=discounted)
    assert broken(draft) == [(True, f"{reel.code}: proved by test.")]
    assert issued(draft).number


def test_a_failure_blocks_nothing_once_the_force_is_lowered(reel):
    draft = given_cut_length_draft(given_piece(reel=reel))
    given_breaking_test(sample=given_sample(reel=reel), peak_n=TOO_LITTLE_N)
    assert broken(draft) == [(True, f"{reel.code}: failed: de-rated to 93.1 kN.")]


def test_the_report_of_the_discounted_break_itself_goes_out(reel):
    draft = given_breaking_draft(discount(reel))
    assert broken(draft) == []
    assert issued(draft).number


def test_without_tests_nothing_is_proved_and_nothing_blocked(reel):
    draft = given_cut_length_draft(given_piece(reel=reel))
    assert broken(draft) == [(True, f"{reel.code}: nothing proved by test.")]


def test_a_reel_without_basis_is_told_once_with_its_force(reel):
    draft = given_cut_length_draft(given_piece())
    assert broken(draft) == []
    assert "Breaking force" in {item.name for item in lacking(checklist(draft, on=DAY))}


def test_the_retests_that_are_due(reel):
    discounted = discount(reel)
    assert retests_due() == [discounted]
    test = later(reel)
    assert retests_due() == []
    reverse_test(test=test, reason="typed twice", by=given_person(), at=MOMENT)
    assert retests_due() == [discounted]
    reverse_test(test=discounted, reason="typed twice", by=given_person(), at=MOMENT)
    assert retests_due() == []


@pytest.mark.parametrize("count", [1, 3])
def test_the_number_of_queries_for_them_does_not_grow(count, django_assert_num_queries):
    for _ in range(count):
        reel = given_reel()
        given_basis(reel)
        discount(reel)
    with django_assert_num_queries(4):
        assert len(retests_due()) == count
