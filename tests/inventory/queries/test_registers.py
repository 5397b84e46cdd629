import pytest

from inventory.queries import registers
from inventory.services.cut import reverse_cut
from tests import factories as given

pytestmark = pytest.mark.django_db


def test_heats_are_found_by_the_beginning_of_their_number():
    first, _ = given.given_heat(number="40001"), given.given_heat(number="50001")
    assert list(registers.heats(number="40")) == [first]


def test_the_latest_comes_first():
    heats = [given.given_heat() for _ in range(3)]
    assert list(registers.heats()) == heats[::-1]


@pytest.mark.parametrize("named", ["MD-1", "D-00001", "d-00001"])
def test_a_document_is_named_by_number_or_code(named):
    document = given.given_mill_document(number="MD-1")
    assert registers.mill_document_of(mill=document.mill, named=named) == document


def test_a_line_waits_until_all_its_lengths_are_cut():
    line = given.given_order_line(length_m=10, quantity=2)
    reel = given.given_reel()
    given.given_piece(reel=reel, length_m=10, order_line=line)
    assert list(registers.lines_for_rope(given.ROPE)) == [line]
    given.given_piece(reel=reel, length_m=10, order_line=line)
    assert not registers.lines_for_rope(given.ROPE)


def test_a_line_in_any_lengths_waits_until_their_sum_is_cut():
    line = given.given_order_line(length_m=30, as_one_length=False)
    reel = given.given_reel()
    given.given_piece(reel=reel, length_m=20, order_line=line)
    assert list(registers.lines_for_rope(given.ROPE)) == [line]
    given.given_piece(reel=reel, length_m=10, order_line=line)
    assert not registers.lines_for_rope(given.ROPE)


def test_a_reversed_cut_serves_no_line():
    line = given.given_order_line(length_m=10)
    piece = given.given_piece(length_m=10, order_line=line)
    reverse_cut(cut=piece, reason="never parted", by=given.given_person(), at=given.MOMENT)
    assert list(registers.lines_for_rope(given.ROPE)) == [line]
    assert not registers.pieces_of_order(line.order)


def test_only_pieces_in_the_house_are_free():
    reel = given.given_reel()
    free, sold, built = (given.given_piece(reel=reel) for _ in range(3))
    given.given_sample(reel=reel)
    given.given_delivery(sold)
    given.given_assembly(pieces=[built])
    assert list(registers.free_pieces()) == [free]


def test_lots_that_are_used_up_are_not_left():
    lot, other = given.given_fitting_lot(quantity=2), given.given_fitting_lot(quantity=3)
    given.given_assembly(lot=lot)
    given.given_assembly(lot=other)
    assert list(registers.lots_left()) == [other]


def test_lots_left_for_a_rope_fit_it_or_any_rope():
    ten, any_rope = (
        given.given_fitting_lot(for_diameter="10"),
        given.given_fitting_lot(for_diameter=""),
    )
    given.given_fitting_lot(for_diameter="12")
    assert set(registers.lots_left([10_000_000])) == {ten, any_rope}


def test_a_machine_is_due_when_its_last_calibration_ends():
    machine = given.given_machine()
    (found,) = registers.machines()
    assert found.due == machine.calibrations.get().due_date


def test_makers_are_no_customers():
    mill, _ = given.given_mill(), given.given_customer()
    assert list(registers.makers()) == [mill]
