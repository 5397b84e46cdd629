"""The mark typed on the page of a draft, and read again on certificate and tag."""

import pytest
from django.urls import reverse

from certs.models import Certificate
from certs.queries.claims import tag_of_certificate
from tests.certs.papers import given_certifiable_assembly, issued
from tests.certs.queries.test_marks import TWO, drafted
from tests.words import words_of

pytestmark = pytest.mark.usefixtures("tables")

DRAFT = reverse("certs:draft_assembly")


def asked(marked):
    return {
        "assembly": given_certifiable_assembly().code,
        "document_kind": "2.2",
        "marked_kg": marked,
    }


# 1 lb = 0.45359237 kg (NIST SP 811): 3500 lb are 1587.57 kg.
@pytest.mark.parametrize(
    ("typed", "kg", "shown"),
    [("1.6", 1600, "1.6 t"), ("3500 lb", 1587, "1.587 t"), ("1 1/2 short tons", 1360, "1.36 t")],
)
def test_a_mark_is_typed_in_any_unit_and_shown_on_the_draft(as_quality, typed, kg, shown):
    page = as_quality.post(DRAFT, asked(typed), follow=True)
    assert Certificate.objects.get().marked_kg == kg
    assert "Working load limit marked" in page.text
    assert f"{shown}, for one leg; derived 1.7 t" in words_of(page.text)  # the checklist


# EN 13414-1:2003 Table 4 prints 1.7 t for one leg of 12 mm, steel core, grade 1770.
@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("1.71", "1.71 t may not be marked"),
        ("2 tons", "write t (1000 kg) or short ton (2000 lb)"),
        ("0", "less than a kilogram"),
    ],
)
def test_a_mark_that_may_not_stand_is_refused_beside_its_field(as_quality, typed, said):
    page = as_quality.post(DRAFT, asked(typed))
    assert said in page.text
    assert 'id="id_marked_kg_error"' in page.text
    assert not Certificate.objects.exists()


def test_a_correction_starts_with_the_mark_of_the_old_paper(as_quality, plain_paper):
    old = issued(drafted(1600))
    page = as_quality.get(reverse("certs:correct", args=[old.number]))
    assert 'value="1.6 t"' in page.text


def test_cut_lengths_are_asked_for_no_mark(as_quality):
    page = as_quality.get(reverse("certs:draft_cut_length"))
    assert "marked_kg" not in page.text


def test_certificate_and_tag_tell_the_mark_and_the_tag_stays_small(as_auditor, client, plain_paper):
    certificate = issued(drafted(2200, **TWO))
    page = as_auditor.get(reverse("certs:certificate", args=[certificate.number]))
    assert "At 0 to 45 degrees from the vertical; derived 2.3 t." in page.text
    answer = client.get(f"/t/{tag_of_certificate(certificate).code}")
    assert "Working load limit marked" in answer.text
    assert len(answer.content) < 14_000
