from certs.queries.held_codes import held_codes
from tests.factories import given_assembly, given_hold, given_piece, given_reel


def test_a_hold_on_a_reel_reaches_its_pieces_and_their_assembly(db):
    reel, other = given_reel(), given_reel()
    piece, beside = given_piece(reel=reel), given_piece(reel=other)
    sling = given_assembly(pieces=[given_piece(reel=reel)])
    given_hold(reel)
    codes = {reel.code, other.code, piece.code, beside.code, sling.code}
    assert held_codes(codes) == {reel.code, piece.code, sling.code}


def test_only_what_was_asked_about_is_told(db):
    reel = given_reel()
    given_hold(reel)
    assert held_codes({"R-00099"}) == set()
