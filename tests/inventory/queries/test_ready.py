import pytest

from inventory.queries.ready import ready_for
from tests import factories as given

pytestmark = pytest.mark.django_db


@pytest.fixture
def line():
    return given.given_order_line(length_m=10, quantity=9)


def cut(line, reel=None):
    return given.given_piece(reel=reel or given.given_reel(), length_m=10, order_line=line)


def test_a_piece_in_the_house_is_ready(line):
    piece = cut(line)
    assert ready_for(line.order).piece_codes == (piece.code,)


def test_a_piece_in_an_assembly_leaves_with_the_assembly(line):
    assembly = given.given_assembly(pieces=[cut(line)])
    ready = ready_for(line.order)
    assert ready.piece_codes == ()
    assert ready.assembly_codes == (assembly.code,)


def test_what_left_is_not_ready(line):
    piece = cut(line)
    assembly = given.given_assembly(pieces=[cut(line)])
    given.given_delivery(piece, assembly, order=line.order)
    assert ready_for(line.order) == ready_for(given.given_order())


@pytest.mark.parametrize("what", ["piece", "assembly"])
def test_what_is_under_hold_is_not_ready(what, line):
    piece = cut(line)
    assembly = given.given_assembly(pieces=[cut(line)])
    given.given_hold({"piece": piece, "assembly": assembly}[what])
    ready = ready_for(line.order)
    codes = (*ready.piece_codes, *ready.assembly_codes)
    assert codes == ((assembly.code,) if what == "piece" else (piece.code,))
