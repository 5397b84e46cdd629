"""Cutting by scanner, as its wedge types: a code or an address, then Enter."""

import io
from urllib.parse import parse_qs, urlsplit

import pikepdf
import pytest

from certs.models import Tag
from inventory.models import CutPiece
from inventory.services.cut import cut_piece
from inventory.services.receive import HeatTie, receive_reel
from tests import factories as given
from tests.certs.sites import given_tag

BENCH, LABEL = "/cutting/", "/cutting/label/"
QUERIES = 13
PLAIN = {"purpose": "supply", "near_end": "plain", "far_end": "plain"}


@pytest.fixture(autouse=True)
def origin(settings):
    settings.PUBLIC_ORIGIN = "https://rope.example"


@pytest.fixture
def reel(db):
    return given.given_reel(length_m=100)


def cut(client, reel, length, **changed):
    asked = PLAIN | {"length_mm": length} | changed
    return client.post(f"{BENCH}?reel={reel.code}", asked)


def of_another_mill(number):
    heat = given.given_heat(mill=given.given_mill("Another Mill"))
    facts = {"mill_document": None, "location": "", "marked_grade": "", "marking": ""}
    return receive_reel(
        designation=given.ROPE,
        mill=heat.mill,
        mill_reel_number=number,
        length_mm=1000,
        heats=[HeatTie(heat)],
        declared_force_n=None,
        declared_mass_g_per_100m=None,
        **facts,
        by=given.given_person(),
        at=given.MOMENT,
    )


@pytest.mark.parametrize(
    "text",
    ["R-00001", "r1", "https://rope.example/reels/R-00001/", "HTTPS://ROPE.EXAMPLE/REELS/R-00001"],
)
def test_a_scanned_reel_shows_what_it_can_give(text, reel, as_stores):
    given.given_piece(reel=reel, length_m=10)
    page = as_stores.get(BENCH, {"reel": text}).text
    assert reel.designation in page
    assert "Next free metre" in page
    assert "10.000 m" in page


def test_the_mills_own_number_finds_a_reel_if_it_is_one_reels(as_stores):
    one = given.given_reel()
    assert one.mill_reel_number == "MR-1"
    assert one.designation in as_stores.get(BENCH, {"reel": "mr-1"}).text
    two = of_another_mill("MR-1")
    assert f"number of {one.code}, {two.code}" in as_stores.get(BENCH, {"reel": "MR-1"}).text


@pytest.mark.parametrize(
    ("text", "why"),
    [
        pytest.param("R-99", "There is no reel R-00099", id="no such reel"),
        pytest.param("P-00001", "P-00001 is no reel", id="a piece"),
        pytest.param("rubbish", "No reel has “rubbish”", id="rubbish"),
        pytest.param("https://evil.example/reels/R-00001/", "not this house", id="another house"),
        pytest.param("", "required", id="nothing"),
    ],
)
def test_what_is_no_reel_is_said_in_words(text, why, reel, as_stores):
    page = as_stores.get(BENCH, {"reel": text}).text
    assert why.lower() in page.lower()
    assert "Take this reel" in page


def test_the_tag_of_goods_is_no_reels_label(as_stores):
    tag = given_tag()
    page = as_stores.get(BENCH, {"reel": f"HTTPS://ROPE.EXAMPLE/T/{tag.code}"}).text
    assert "Scan the reel’s label" in page


# 40 ft: 0.3048 m a foot (NIST SP 811, B.8).
@pytest.mark.parametrize(
    ("length", "mm"), [("12.5", 12_500), ("12,5 m", 12_500), ("40 ft", 12_192)]
)
def test_a_length_and_enter_cuts_and_the_reel_stays(length, mm, reel, as_stores):
    answer = cut(as_stores, reel, length)
    piece = CutPiece.objects.get()
    assert (piece.from_mm, piece.to_mm) == (0, mm)
    query = parse_qs(urlsplit(answer["Location"]).query)
    assert query["reel"] == [reel.code]
    assert query["cut"] == [piece.code]
    page = as_stores.get(answer["Location"]).text
    assert f"{piece.code} is cut" in page
    assert f"Label {piece.code}" in page
    # The next length can be typed at once.
    assert page.count("autofocus") == 1


def test_what_it_is_cut_for_stays_from_cut_to_cut(reel, as_stores):
    line = given.given_order_line(length_m=10, quantity=2)
    name = f"{line.order.code}.{line.position}"
    first = cut(as_stores, reel, "10", order_line=name, far_end="seized")
    page = as_stores.get(first["Location"]).text
    assert f'<option value="{name}" selected>' in page
    assert '<option value="seized" selected>' in page


def test_another_reel_scanned_into_the_length_changes_the_reel(reel, as_stores):
    other = given.given_reel()
    for text in (other.code, f"HTTPS://ROPE.EXAMPLE/REELS/{other.code}"):
        answer = as_stores.get(cut(as_stores, reel, text)["Location"])
        assert f'<a href="/reels/{other.code}/">{other.code}</a> <strong>' in answer.text
    assert not CutPiece.objects.exists()


def test_a_hold_is_told_and_nothing_is_cut(reel, as_stores):
    hold = given.given_hold(reel)
    page = as_stores.get(BENCH, {"reel": reel.code}).text
    assert hold.code in page
    assert "Nothing on this reel can be cut" in page
    assert f"under hold {hold.code}" in cut(as_stores, reel, "5").text
    assert not CutPiece.objects.exists()


def test_a_refused_length_stays_typed(reel, as_stores):
    page = cut(as_stores, reel, "120").text
    assert "its longest is 100.000 m" in page
    assert 'value="120"' in page


def test_one_label_is_printed_and_may_be_shown_within_the_page(reel, as_stores):
    as_stores.get(cut(as_stores, reel, "5")["Location"])
    answer = as_stores.post(LABEL, {"things": "P-00001", "sheet": "roll-100"})
    assert answer["X-Frame-Options"] == "SAMEORIGIN"
    assert answer["Content-Security-Policy"] == "frame-ancestors 'self'"
    assert len(pikepdf.open(io.BytesIO(answer.content)).pages) == 1
    assert Tag.objects.get().piece.code == "P-00001"
    # The stock is kept for the next, and what is labelled is not undone.
    page = as_stores.get(BENCH, {"reel": reel.code}).text
    assert '<option value="roll-100" selected>' in page
    assert "Print again" in page
    assert "the cut of P-00001" not in page
    as_stores.post(LABEL, {"things": "P-00001", "sheet": "roll-100"})
    assert Tag.objects.count() == 1


@pytest.mark.parametrize(
    ("asked", "why"),
    [
        pytest.param({"things": "P-00009", "sheet": "roll-50"}, "no piece", id="no such piece"),
        pytest.param({"things": "P-00001", "sheet": "napkin"}, "napkin", id="no such stock"),
    ],
)
def test_a_label_that_cannot_be_is_refused_where_the_page_reads_it(asked, why, reel, as_stores):
    cut(as_stores, reel, "5")
    answer = as_stores.post(LABEL, asked)
    assert answer.status_code == 409
    assert answer["X-Frame-Options"] == "SAMEORIGIN"
    assert why in answer.text.split("data-refused")[1]
    assert not Tag.objects.exists()


def test_a_cut_of_today_is_undone_from_the_bench(reel, as_stores):
    cut(as_stores, reel, "5")
    as_stores.get(f"{BENCH}?reel={reel.code}")
    page = as_stores.get(f"{BENCH}?reel={reel.code}").text
    assert 'action="/pieces/P-00001/undo/"' in page
    answer = as_stores.post("/pieces/P-00001/undo/", {"back": f"{BENCH}?reel={reel.code}"})
    after = as_stores.get(answer["Location"]).text
    assert "is undone" in after
    assert ">undone</td>" in after


def test_only_ones_own_cuts_of_today_are_listed(reel, as_stores, stores_hand):
    given.given_piece(reel=reel, length_m=1)
    asked = {"from_mm": None, "length_mm": 1000, "purpose": "supply"}
    cut_piece(reel=reel, **asked, by=stores_hand, at=given.MOMENT)
    assert "Nothing yet" in as_stores.get(BENCH).text


@pytest.mark.parametrize("count", [1, 3])
def test_a_bench_asks_as_much_for_one_cut_as_for_three(
    count, reel, as_stores, django_assert_num_queries
):
    for _ in range(count):
        cut(as_stores, reel, "5")
    as_stores.get(BENCH)
    with django_assert_num_queries(QUERIES):
        as_stores.get(BENCH, {"reel": reel.code})
