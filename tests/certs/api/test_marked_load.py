"""The load marked on a sling over the API, in whole kilograms."""

import pytest

from certs.queries.claims import tag_of_certificate
from tests.api import get, post
from tests.certs.papers import given_certifiable_assembly, issued
from tests.certs.queries.test_marks import TWO, drafted

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


def asked(kg):
    return {
        "assembly": given_certifiable_assembly().code,
        "document_kind": "2.2",
        "marked_kg": kg,
    }


# EN 13414-1:2003 Table 4 prints 1.7 t for one leg of 12 mm, steel core, grade 1770.
def test_a_mark_is_drafted_and_stands_in_the_checklist(qa):
    made = post(qa, "certificates/assembly/", asked(1650))
    assert made["marked_kg"] == 1650
    items = get(qa, f"certificates/{made['draft_code']}/checklist/")
    (item,) = (one for one in items if one["name"] == "Marked load")
    assert item["is_met"]
    assert item["text"].startswith(
        "Working load limit marked: 1.65 t, for one leg; derived 1.7 t. EN 13414-1"
    )


@pytest.mark.parametrize(
    ("kg", "said"),
    [(1701, "1.701 t may not be marked"), (0, "greater than or equal to 1"), ("x", "integer")],
)
def test_a_mark_that_may_not_stand_is_refused_by_its_field(qa, kg, said):
    answer = qa.post("/api/certificates/assembly/", asked(kg), content_type="application/json")
    assert answer.status_code == 400
    assert "marked_kg" in answer.text
    assert said in answer.text


def test_the_public_tag_tells_the_mark_first(qa):
    certificate = issued(drafted(2200, **TWO))
    tag = get(qa, f"tags/{tag_of_certificate(certificate).code}/public/")
    assert tag["loads"][0]["quantity"] == "working load limit marked"
    assert tag["loads"][0]["value"] == "2.2 t"
