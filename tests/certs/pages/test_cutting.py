import re

import pytest
from django.urls import reverse

from inventory.models import CutPiece
from inventory.services.orders import LineAsked
from tests import factories as given
from tests.certs.papers import given_documented_reel

pytestmark = pytest.mark.django_db

M = 1000


def order_of(*lengths_m, **facts):
    return given.given_order(*(LineAsked(given.ROPE, m * M, **facts) for m in lengths_m))


def page_of(order, query=""):
    return reverse("certs:order_cutting", args=[order.code]) + query


def rows(*typed):
    data = {"cut-TOTAL_FORMS": str(len(typed)), "cut-INITIAL_FORMS": str(len(typed))}
    for number, (line, length, reel, from_metre) in enumerate(typed):
        data |= {
            f"cut-{number}-line": line,
            f"cut-{number}-length_mm": length,
            f"cut-{number}-reel": reel,
            f"cut-{number}-from_mm": from_metre,
        }
    return data


def proposed(answer):
    """The rows of the form as the page fills them in, ready to be sent back."""
    found = re.findall(
        r'<input type="(?:text|hidden)" name="(cut-[^"]+)" value="([^"]*)"', answer.text
    )
    return dict(found)


def test_what_is_proposed_can_be_sent_back_as_it_is_and_is_cut(as_stores):
    order = order_of(30, 20)
    reel = given.given_reel(length_m=100)
    answer = as_stores.get(page_of(order))
    assert "proved best" in answer.text
    sent = as_stores.post(page_of(order), proposed(answer))
    assert sent["Location"] == reverse("inventory:order", args=[order.code])
    assert [(p.reel, p.from_mm, p.to_mm) for p in CutPiece.objects.order_by("id")] == [
        (reel, 0, 30_000), (reel, 30_000, 50_000),
    ]  # fmt: skip


def test_the_proposal_tells_reels_remnants_and_draws_the_pieces(as_stores):
    order = order_of(98)
    reel = given.given_reel(length_m=100)
    text = as_stores.get(page_of(order)).text
    assert reverse("inventory:reel", args=[reel.code]) in text
    assert "98.000 m for line 1" in text
    assert "of which too short to be of use: 2.000 m" in text
    assert 'data-from-mm="0" data-to-mm="98000"' in text
    assert "heavy frame" in text


def test_the_shortest_usable_length_is_the_officers_own(as_stores):
    order = order_of(98)
    given.given_reel(length_m=100)
    text = as_stores.get(page_of(order, "?shortest_usable_mm=1.5 m")).text
    assert "too short to be of use" not in text
    assert 'value="1.5 m"' in text


def test_reels_can_be_left_out(as_stores):
    order = order_of(30)
    given.given_reel(), given.given_reel()
    text = as_stores.get(page_of(order, "?without=r-00001")).text
    assert proposed(as_stores.get(page_of(order, "?without=r-00001")))["cut-0-reel"] == "R-00002"
    assert '<option value="R-00001">' not in text


def test_a_reel_to_be_left_out_that_nobody_knows_is_told_and_not_passed_over(as_stores):
    order = order_of(30)
    given.given_reel()
    text = as_stores.get(page_of(order, "?without=r-00001, R-OOO02")).text
    assert "“R-OOO02” is no reel (R-…) on record." in text
    assert text.count('id="form-errors"') == 1


def test_a_reel_without_a_basis_of_strength_is_offered_last_with_a_word(as_stores, tables):
    order = order_of(30)
    given.given_reel(length_m=100)
    with_basis = given_documented_reel(designation=given.ROPE)
    answer = as_stores.get(page_of(order))
    assert proposed(answer)["cut-0-reel"] == with_basis.code
    assert "no basis of strength" not in answer.text


def test_a_reel_without_a_basis_is_taken_where_no_other_serves(as_stores):
    order = order_of(30)
    given.given_reel(length_m=100)
    assert "no basis of strength is named for it" in as_stores.get(page_of(order)).text


def test_what_cannot_be_met_is_told_with_the_reason(as_stores):
    order = order_of(30, 120)
    given.given_reel(length_m=100)
    text = as_stores.get(page_of(order)).text
    assert "No reel gives 120.000 m in one length; the longest is 100.000 m" in text
    assert "1 piece, 120.000 m" in text


def test_a_line_in_any_lengths_is_met_as_far_as_the_rope_goes(as_stores):
    order = order_of(120, as_one_length=False)
    given.given_reel(length_m=100)
    text = as_stores.get(page_of(order)).text
    assert "100.000 m for line 1" in text
    assert re.search(r">\s*nothing\s*<", text)
    assert re.search(r">\s*20.000 m\s*<", text)


def test_what_is_not_proved_is_told_with_what_nothing_can_be_better_than(as_stores, monkeypatch):
    monkeypatch.setattr("inventory.rules.cutting_plan.MOST_CHOICES", 0)
    order = order_of(60, 35)
    given.given_reel(length_m=100), given.given_reel(length_m=60)
    text = as_stores.get(page_of(order, "?shortest_usable_mm=10")).text
    assert "best found" in text
    assert "no way can open fewer than 1 reels or leave less than 0.000 m unusable" in text


def test_nothing_to_propose_is_told_so(as_stores):
    text = as_stores.get(page_of(order_of(30))).text
    assert "Nothing can be proposed" in text
    assert "Book these cuts" not in text


def test_an_order_that_is_served_needs_no_plan(as_stores):
    line = given.given_order_line(length_m=10)
    given.given_piece(length_m=10, order_line=line)
    text = as_stores.get(page_of(line.order)).text
    assert "Nothing is left to be cut" in text
    order_page = as_stores.get(reverse("inventory:order", args=[line.order.code])).text
    assert "Plan the cuts" not in order_page


def test_the_order_leads_to_its_plan(as_stores, as_auditor):
    order = order_of(30)
    page = reverse("inventory:order", args=[order.code])
    assert page_of(order) in as_stores.get(page).text
    assert page_of(order) not in as_auditor.get(page).text


class TestChangedByHand:
    def test_a_piece_moved_to_another_reel_is_put_where_there_is_room(self, as_stores):
        order, _, other = order_of(30), given.given_reel(), given.given_reel()
        given.given_piece(reel=other, from_m=0, length_m=15)
        as_stores.post(page_of(order), rows(("O-00001.1", "30", other.code.lower(), "")))
        piece = CutPiece.objects.latest("id")
        assert (piece.reel, piece.from_mm) == (other, 15_000)

    def test_a_piece_without_a_reel_is_left_out(self, as_stores):
        order, reel = order_of(30, 20), given.given_reel()
        typed = rows(("O-00001.1", "30", "", ""), ("O-00001.2", "20", reel.code, "0"))
        as_stores.post(page_of(order), typed)
        assert CutPiece.objects.get().order_line.position == 2

    def test_changes_can_be_looked_at_before_they_are_booked(self, as_stores):
        order, reel = order_of(30, 20), given.given_reel(length_m=100)
        typed = rows(("O-00001.2", "20", "", ""), ("O-00001.1", "30", reel.code, "10"))
        text = as_stores.post(page_of(order), typed | {"look": "yes"}).text
        assert "Your cuts" in text
        assert "Piece 2: Rope is left before this piece" in text
        assert "Of line 2, 20.000 m stays uncut" in text
        assert "changed by hand" in text
        assert not CutPiece.objects.exists()

    def test_what_cannot_be_cut_is_told_and_nothing_is_booked(self, as_stores):
        order, reel = order_of(30, 20), given.given_reel(length_m=100)
        typed = rows(("O-00001.1", "30", reel.code, "0"), ("O-00001.2", "20", reel.code, "90"))
        text = as_stores.post(page_of(order), typed).text
        assert "Cut 2, 20.000 m of reel R-00001 for line 2, does not fit" in text
        assert "is not all clear" in text
        assert 'value="90"' in text
        assert not CutPiece.objects.exists()

    @pytest.mark.parametrize("way", [{}, {"look": "yes"}], ids=["book", "look"])
    def test_a_reel_without_room_is_told(self, as_stores, way):
        order, reel = order_of(30), given.given_reel(length_m=20)
        text = as_stores.post(page_of(order), rows(("O-00001.1", "30", reel.code, "")) | way).text
        assert text.count("Reel R-00001 has no 30.000 m in one length left") == 1

    @pytest.mark.parametrize("way", [{}, {"look": "yes"}], ids=["book", "look"])
    def test_a_length_that_cannot_be_read_is_told_beside_the_field(self, as_stores, way):
        order, reel = order_of(30), given.given_reel(length_m=20)
        text = as_stores.post(page_of(order), rows(("O-00001.1", "long", reel.code, "")) | way).text
        assert "error-summary" in text
        assert 'value="long"' in text

    def test_a_line_of_another_order_is_refused(self, as_stores):
        order, reel = order_of(30), given.given_reel()
        order_of(30)
        text = as_stores.post(page_of(order), rows(("O-00002.1", "30", reel.code, "0"))).text
        assert "there is no line O-00002.1 for order O-00001" in text
        assert not CutPiece.objects.exists()


def test_a_plan_sent_twice_is_booked_once(as_stores):
    order, reel = order_of(30), given.given_reel()
    typed = rows(("O-00001.1", "30", reel.code, "0")) | {"once": "t" * 43}
    as_stores.post(page_of(order), typed)
    text = as_stores.post(page_of(order), typed).text
    assert "was sent before" in text
    assert CutPiece.objects.count() == 1


def test_a_plan_that_the_stock_outran_is_refused_whole(as_stores):
    order = order_of(30, 20)
    one, two = given.given_reel(length_m=30), given.given_reel(length_m=20)
    typed = proposed(as_stores.get(page_of(order, "?shortest_usable_mm=0")))
    assert {typed["cut-0-reel"], typed["cut-1-reel"]} == {one.code, two.code}
    given.given_piece(reel=two, length_m=1)
    text = as_stores.post(page_of(order), typed).text
    assert "Nothing of the plan was booked" in text
    assert CutPiece.objects.count() == 1


def test_a_long_plan_is_booked_in_parts(as_stores, monkeypatch):
    monkeypatch.setattr("certs.pages.cutting.MOST_ROWS", 2)
    order = order_of(10, 10, 10)
    given.given_reel(length_m=100)
    answer = as_stores.get(page_of(order))
    assert "the other 1 are proposed after" in answer.text
    as_stores.post(page_of(order), proposed(answer))
    assert CutPiece.objects.count() == 2


def test_not_every_reel_of_a_long_plan_is_drawn(as_stores, monkeypatch):
    monkeypatch.setattr("certs.pages.cutting.MOST_DRAWN", 1)
    order = order_of(90, 90)
    given.given_reel(length_m=100), given.given_reel(length_m=100)
    text = as_stores.get(page_of(order)).text
    assert text.count("with the pieces proposed") == 1
    assert "1 more" in text


def test_the_plan_is_for_those_who_cut(as_auditor, client):
    order = order_of(30)
    assert as_auditor.get(page_of(order)).status_code == 403
    assert as_auditor.post(page_of(order)).status_code == 403
    assert client.get(page_of(order)).status_code == 302


def test_an_order_that_is_not_there_is_not_found(as_stores):
    assert as_stores.get(reverse("certs:order_cutting", args=["O-99999"])).status_code == 404
