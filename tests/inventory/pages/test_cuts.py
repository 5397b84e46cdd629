import pytest
from django.urls import reverse

from inventory.models import CutPiece, Reel
from tests import factories as given

PLAIN = {"purpose": "supply", "near_end": "plain", "far_end": "plain"}


def at(name, thing):
    return reverse(f"inventory:{name}", args=[thing.code])


def test_a_piece_is_cut_from_the_free_end(as_stores):
    reel = given.given_reel(length_m=100)
    answer = as_stores.post(at("cut", reel), PLAIN | {"length_mm": "12.5"})
    piece = CutPiece.objects.get()
    assert answer["Location"] == at("piece", piece)
    assert (piece.from_mm, piece.to_mm) == (0, 12_500)


def test_a_piece_for_an_order_takes_its_tolerance_from_the_line(as_stores):
    line, reel = given.given_order_line(length_m=50), given.given_reel(length_m=100)
    changed = {"length_mm": "50 m", "order_line": f"{line.order.code}.1"}
    as_stores.post(at("cut", reel), PLAIN | changed)
    piece = CutPiece.objects.get()
    assert (piece.order_line, piece.ordered_length_mm) == (line, 50_000)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        pytest.param({"length_mm": "120"}, "its longest is 100.000 m", id="longer than any"),
        pytest.param({"length_mm": "5 bananas"}, "no unit of length", id="no unit"),
        pytest.param({"length_mm": "20", "from_mm": "90"}, "passes the end", id="past the end"),
        pytest.param({"length_mm": "5", "order_line": "O-00009.1"}, "does not ask", id="no line"),
        pytest.param(
            {"length_mm": "5", "purpose": "gift"}, "is none of the choices", id="no purpose"
        ),
    ],
)
def test_a_refused_cut_says_why_and_keeps_what_was_typed(changed, words, as_stores):
    reel = given.given_reel(length_m=100)
    answer = as_stores.post(at("cut", reel), PLAIN | {"note": "kept as typed"} | changed)
    assert words in answer.text
    assert "kept as typed" in answer.text
    assert not CutPiece.objects.exists()


def test_nothing_is_cut_under_hold(as_stores):
    reel = given.given_reel(length_m=100)
    hold = given.given_hold(reel)
    answer = as_stores.post(at("cut", reel), PLAIN | {"length_mm": "5"})
    assert f"under hold {hold.code}" in answer.text
    assert not CutPiece.objects.exists()


def test_nobody_from_the_test_bench_cuts(client, bench_hand):
    client.force_login(bench_hand)
    reel = given.given_reel()
    assert client.post(at("cut", reel), PLAIN | {"length_mm": "5"}).status_code == 403
    assert not CutPiece.objects.exists()


def test_a_wrong_cut_is_reversed_with_its_reason(as_quality):
    piece = given.given_piece()
    answer = as_quality.post(at("reverse_cut", piece), {"reason": "never parted"})
    assert answer["Location"] == at("reel", piece.reel)
    assert "never parted" in as_quality.get(at("piece", piece)).text


def test_a_cut_that_was_delivered_is_not_reversed(as_quality):
    piece = given.given_piece()
    given.given_delivery(piece)
    answer = as_quality.post(at("reverse_cut", piece), {"reason": "kept as typed"})
    assert "kept as typed" in answer.text
    piece.refresh_from_db()
    assert not piece.is_reversed


def test_a_stretch_is_wound_on_to_a_reel_of_its_own(as_stores):
    reel = given.given_reel(length_m=100)
    asked = {"from_mm": "20", "to_mm": "50", "is_turned": "yes", "location": "Bay 9"}
    answer = as_stores.post(at("rewind", reel), asked)
    wound = Reel.objects.get(origin="rewind")
    assert answer["Location"] == at("reel", wound)
    assert (wound.length_mm, wound.is_turned, wound.location) == (30_000, True, "Bay 9")


def test_a_rewind_backwards_is_refused_at_its_field(as_stores):
    reel = given.given_reel(length_m=100)
    asked = {"from_mm": "50", "to_mm": "20", "is_turned": "no"}
    answer = as_stores.post(at("rewind", reel), asked)
    assert "must end after it starts" in answer.text


def test_a_delivered_piece_comes_back_as_a_reel(as_stores):
    piece = given.given_piece(length_m=10)
    given.given_delivery(piece)
    asked = {"from_mm": "2", "is_turned": "no", "location": "Bay 3"}
    answer = as_stores.post(at("take_back", piece), asked)
    reel = Reel.objects.get(origin="return")
    assert answer["Location"] == at("reel", reel)
    assert (reel.origin_from_mm, reel.origin_to_mm) == (2_000, 10_000)


def test_a_piece_in_the_house_does_not_come_back(as_stores):
    answer = as_stores.post(at("take_back", given.given_piece()), {"is_turned": "no"})
    assert "was not delivered" in answer.text


def test_the_page_of_a_piece_leads_through_the_rewind_to_the_mill(as_auditor, record):
    piece = given.given_piece(reel=record.wound, length_m=4)
    text = as_auditor.get(at("piece", piece)).text
    # Wound turned: metre 0 of the wound reel is metre 60 of the mill's reel.
    assert "56.000 m" in text
    assert "60.000 m" in text
    assert "the other way" in text
    assert record.heat.number in text


def test_a_reel_says_where_it_stands(as_stores):
    reel = given.given_reel()
    as_stores.post(at("move", reel), {"location": "Yard, row 4"})
    assert "Yard, row 4" in as_stores.get(at("reel", reel)).text


def test_a_length_typed_in_feet_stays_beside_the_millimetres(as_stores):
    reel = given.given_reel()
    asked = {
        "length_mm": "41 ft 6 in",
        "purpose": "supply",
        "near_end": "plain",
        "far_end": "plain",
    }
    answer = as_stores.post(reverse("inventory:cut", args=[reel.code]), asked, follow=True)
    # NIST SP 811: 1 ft = 304.8 mm and 1 in = 25.4 mm, both exact.
    assert "12.649 m (41 ft 6 in)" in answer.text


def test_the_page_of_a_sample_leads_to_the_tests_made_on_it(client, bench_hand):
    client.force_login(bench_hand)
    sample = given.given_sample()
    text = client.get(at("piece", sample)).text
    assert f"/tests/breaking/record/?sample={sample.code}" in text
    assert f"/tests/wires/record/?sample={sample.code}" in text
    assert "?sample=" not in client.get(at("piece", given.given_piece())).text
