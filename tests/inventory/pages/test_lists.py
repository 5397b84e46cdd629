import pytest
from django.urls import reverse

from inventory.pages import rendering
from tests import factories as given

# What every signed-in page asks: the session, the person, the count of the rows, the rows.
MAKERS = {
    "reels": (given.given_reel, 8),
    "heats": (given.given_heat, 5),
    "documents": (given.given_mill_document, 5),
    "orders": (given.given_order, 5),
    "fittings": (given.given_fitting_lot, 4),
    "assemblies": (given.given_assembly, 5),
    "deliveries": (lambda: given.given_delivery(given.given_piece()), 5),
    "holds": (lambda: given.given_hold(given.given_piece()), 4),
    "machines": (given.given_machine, 4),
}


@pytest.mark.parametrize("rows", [1, 3])
@pytest.mark.parametrize("name", MAKERS)
def test_a_list_asks_the_database_as_often_for_three_rows_as_for_one(
    name, rows, as_auditor, django_assert_num_queries
):
    make, queries = MAKERS[name]
    for _ in range(rows):
        make()
    with django_assert_num_queries(queries):
        answer = as_auditor.get(reverse(f"inventory:{name}"))
    assert answer.text.count('scope="row"') == rows


def test_a_long_list_is_shown_page_by_page(as_auditor, monkeypatch):
    monkeypatch.setattr(rendering, "ROWS_PER_PAGE", 2)
    for _ in range(5):
        given.given_heat()
    first, last = (as_auditor.get(f"/heats/?number=4&page={n}").text for n in (1, 3))
    assert "1 to 2 of 5 heats" in first
    assert "?number=4&amp;page=2" in first
    assert last.count('scope="row"') == 1


@pytest.mark.parametrize(
    ("query", "shown"),
    [
        pytest.param("", {"thick", "thin"}, id="in stock"),
        pytest.param("stock=all", {"thick", "thin", "empty"}, id="all"),
        pytest.param("diameter=8", {"thin"}, id="diameter"),
        pytest.param("construction=6x7", {"thick"}, id="construction"),
        pytest.param("grade=1570", {"thin"}, id="grade"),
        pytest.param("mill=M-00002", {"thin"}, id="mill"),
        pytest.param("mill=M-00099", {"thick", "thin"}, id="no such mill"),
        pytest.param("diameter=wide", {"thick", "thin"}, id="no diameter"),
    ],
)
def test_reels_are_narrowed_by_the_address(query, shown, as_auditor):
    reels = {
        "thick": given.given_reel(),
        "thin": given.given_reel(
            designation="8 1x19 1570 U Z", mill=given.given_mill("Another Invented Mill")
        ),
        "empty": given.given_reel(length_m=10),
    }
    given.given_piece(reel=reels["empty"], length_m=10)
    text = as_auditor.get(f"/reels/?{query}").text
    assert {name for name, reel in reels.items() if f">{reel.code}<" in text} == shown


def test_a_reel_that_is_partly_under_hold_is_said_to_be_so(as_auditor):
    given.given_hold(given.given_reel(length_m=100), from_mm=0, to_mm=30_000)
    text = as_auditor.get("/reels/").text
    assert "partly under hold" in text
    assert "longest clear length 70.000 m" in text


def test_a_filter_that_nothing_answers_to_says_so(as_auditor):
    given.given_heat()
    assert "Nothing on record answers to this" in as_auditor.get("/heats/?number=99999").text


def test_a_reel_page_asks_the_database_as_often_for_many_cuts(
    as_auditor, django_assert_max_num_queries
):
    reel = given.given_reel()
    for _ in range(12):
        given.given_piece(reel=reel)
    with django_assert_max_num_queries(19):
        as_auditor.get(reverse("inventory:reel", args=[reel.code]))
