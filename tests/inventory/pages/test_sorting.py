import pytest
from django.urls import reverse
from django.utils.text import slugify

from certs.pages import (
    certificates,
    decision_rules,
    journal,
    recall_notices,
    representatives,
    site_reports,
    tests,
    wire_tests,
)
from inventory.models import Heat
from inventory.pages import (
    assemblies,
    deliveries,
    documents,
    fittings,
    heats,
    holds,
    machines,
    orders,
    parties,
    people,
    reels,
)
from inventory.pages.sorting import asked_order, in_order
from tests import factories as given

# Every list of the house with the heads that it can be sorted by.
LISTS = {
    "inventory:assemblies": assemblies._SORTS,
    "inventory:deliveries": deliveries._SORTS,
    "inventory:documents": documents._SORTS,
    "inventory:fittings": fittings._SORTS,
    "inventory:heats": heats._SORTS,
    "inventory:holds": holds._SORTS,
    "inventory:machines": machines._SORTS,
    "inventory:orders": orders._SORTS,
    "inventory:parties": parties._SORTS,
    "inventory:reels": reels._SORTS,
    "certs:certificates": certificates._SORTS,
    "certs:decision_rules": decision_rules._SORTS,
    "certs:journal": journal._SORTS,
    "certs:recall_notices": recall_notices._SORTS,
    "certs:representatives": representatives._SORTS,
    "certs:site_reports": site_reports._SORTS,
    "certs:tests": tests._BREAKING_SORTS,
    "certs:proof_tests": tests._PROOF_SORTS,
    "certs:wire_tests": wire_tests._SORTS,
}
HEADS = [pytest.param(name, head, id=f"{name} by {head}") for name in LISTS for head in LISTS[name]]


@pytest.mark.parametrize(("name", "head"), HEADS)
def test_every_head_that_sorts_does_so_both_ways(name, head, as_auditor):
    for sign, way in (("", "ascending"), ("-", "descending")):
        answer = as_auditor.get(reverse(name), {"sort": f"{sign}{slugify(head)}"})
        assert answer.status_code == 200
        columns = [column for column in answer.context["table"].columns if column.sorted]
        assert [(column.word, column.sorted) for column in columns] == [(head, way)]


def test_people_are_sorted_too(as_administrator):
    for head in people._SORTS:
        answer = as_administrator.get(reverse("inventory:people"), {"sort": slugify(head)})
        assert 'aria-sort="ascending"' in answer.text


def numbers(answer):
    return [row.under[1][1].text for row in answer.context["table"].rows]


@pytest.mark.parametrize(
    ("sort", "expected"),
    [
        pytest.param("number", ["100", "200", "300"], id="rising"),
        pytest.param("-number", ["300", "200", "100"], id="falling"),
        pytest.param("", ["200", "100", "300"], id="as ever: the latest first"),
        pytest.param("mill__code", ["200", "100", "300"], id="a column that no head names"),
        pytest.param("?", ["200", "100", "300"], id="at random"),
    ],
)
def test_heats_are_put_in_order(sort, expected, as_auditor):
    for number in ("300", "100", "200"):
        given.given_heat(number=number)
    assert numbers(as_auditor.get("/heats/", {"sort": sort})) == expected


def test_rows_alike_follow_their_id_both_ways(as_auditor):
    for number in ("1", "2", "3"):
        given.given_heat(number=number)
    assert numbers(as_auditor.get("/heats/?sort=steel")) == ["1", "2", "3"]
    assert numbers(as_auditor.get("/heats/?sort=-steel")) == ["3", "2", "1"]


def test_what_is_empty_comes_last_both_ways(as_auditor):
    bare, sound = given.given_machine(is_calibrated=False), given.given_machine()
    for sign in ("", "-"):
        text = as_auditor.get(f"/testing-machines/?sort={sign}calibration").text
        assert text.index(sound.code) < text.index(bare.code)


def test_a_head_keeps_the_filters_and_turns_the_order_round(as_auditor):
    given.given_heat(number="41")
    text = as_auditor.get("/heats/?number=4&page=1&sort=number").text
    assert 'href="?number=4&amp;sort=-number"' in text
    assert 'href="?number=4&amp;sort=steel"' in text
    assert '<input type="hidden" name="sort" value="number">' in text


def test_the_order_is_made_by_the_database(rf, db):
    asked = asked_order(rf.get("/heats/?sort=-number"), heats._SORTS)
    ordered = in_order(Heat.objects.order_by("-id"), heats._SORTS, asked)
    assert "ORDER BY" in str(ordered.query)
    assert str(ordered.query).endswith('"number" DESC, "inventory_heat"."id" DESC')
