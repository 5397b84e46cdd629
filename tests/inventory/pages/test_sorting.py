import pytest
from django.urls import reverse

from inventory.models import Heat
from inventory.pages.sorting import asked_order, in_order
from tests import factories as given

LISTS = [
    "inventory:assemblies", "inventory:deliveries", "inventory:documents", "inventory:fittings",
    "inventory:heats", "inventory:holds", "inventory:machines", "inventory:orders",
    "inventory:parties", "inventory:people", "inventory:reels", "certs:certificates",
    "certs:decision_rules", "certs:journal", "certs:recall_notices", "certs:representatives",
    "certs:site_reports", "certs:tests", "certs:proof_tests", "certs:wire_tests",
]  # fmt: skip
SORTS = {"Number": ("number",), "Steel": ("steel_name",)}


@pytest.mark.parametrize("name", LISTS)
def test_every_head_that_sorts_does_so_both_ways(name, as_auditor, as_administrator):
    client = as_administrator if name == "inventory:people" else as_auditor
    heads = [c for c in client.get(reverse(name)).context["table"].columns if c.href]
    assert len(heads) >= 2
    for head in heads:
        rising = client.get(reverse(name) + head.href)
        (column,) = [c for c in rising.context["table"].columns if c.sorted]
        assert (column.word, column.sorted) == (head.word, "ascending")
        falling = client.get(reverse(name) + column.href)
        assert [c.sorted for c in falling.context["table"].columns if c.sorted] == ["descending"]


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
    asked = asked_order(rf.get("/heats/?sort=-number"), SORTS)
    ordered = in_order(Heat.objects.order_by("-id"), SORTS, asked)
    assert "ORDER BY" in str(ordered.query)
    assert str(ordered.query).endswith('"number" DESC, "inventory_heat"."id" DESC')
