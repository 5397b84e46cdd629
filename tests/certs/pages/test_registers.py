import pytest
from django.urls import reverse

from certs.models import AgreedSpecification, Representative
from inventory.rules.roles import Role
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import given_documented_reel, given_representative
from tests.factories import ROPE, given_customer, given_person, given_sample


def test_a_representative_is_put_on_the_register(as_administrator, db):
    asked = {
        "person": str(given_person(Role.INSPECTION_REPRESENTATIVE).pk),
        "capacity": "manufacturer",
        "organisation": "Invented Stockist",
        "is_independent": "on",
        "valid_from_date": "2026-01-01",
    }
    answer = as_administrator.post(reverse("certs:add_representative"), asked, follow=True)
    assert "is in the register" in answer.text
    assert Representative.objects.get().organisation == "Invented Stockist"


def test_one_who_is_not_independent_is_refused(as_administrator, db):
    asked = {
        "person": str(given_person(Role.INSPECTION_REPRESENTATIVE).pk),
        "capacity": "manufacturer",
        "organisation": "Invented Stockist",
        "valid_from_date": "2026-01-01",
    }
    answer = as_administrator.post(reverse("certs:add_representative"), asked)
    assert "independent" in answer.text
    assert 'value="Invented Stockist"' in answer.text


def test_who_issues_certificates_keeps_no_register(as_quality, db):
    assert as_quality.get(reverse("certs:add_representative")).status_code == 403


def test_an_entry_is_ended(as_administrator, db):
    entry = given_representative()
    page = reverse("certs:end_representative", args=[entry.pk])
    as_administrator.post(page, {"valid_to_date": "2026-06-30"})
    assert str(Representative.objects.get().valid_to_date) == "2026-06-30"


def test_an_agreed_specification_is_added(as_quality, tables):
    asked = {
        "name": "Special 7x7",
        "edition": "2026-01",
        "agreed_with": str(given_customer().pk),
        "paper": "Letter of 2 January, file 7",
        "designation": ROPE,
        "factor_k": "0,359",
        "diameter_plus_pct": "4,5",
        "diameter_minus_pct": "0",
        "mass_minus_pct": "2",
        "mass_plus_pct": "5",
    }
    answer = as_quality.post(reverse("certs:add_agreed"), asked, follow=True)
    assert "Special 7x7 (2026-01) is entered." in answer.text
    added = AgreedSpecification.objects.get()
    assert (added.factor_k, added.diameter_plus_pct) == ("0.359", "4.5")
    assert "diameter 0 % below to 4.5 % above nominal" in answer.text
    assert "mass 2 % below to 5 % above W d²" in answer.text


def test_factor_and_force_together_are_refused(as_quality, tables):
    asked = {
        "name": "Special 7x7",
        "edition": "2026-01",
        "agreed_with": str(given_customer().pk),
        "paper": "Letter",
        "designation": ROPE,
        "factor_k": "0.359",
        "force_n": "90",
    }
    answer = as_quality.post(reverse("certs:add_agreed"), asked)
    assert "error-summary" in answer.text
    assert 'value="Special 7x7"' in answer.text


def test_a_table_shows_source_and_confidence_of_each_row(as_auditor, tables):
    page = reverse("certs:specification", args=["breaking-force-factors"])
    text = as_auditor.get(page, {"q": "6x7"}).text
    assert "two sources" in text
    assert "0.388" in text


def test_a_search_without_rows_teaches(as_auditor, tables):
    page = reverse("certs:specification", args=["terminations"])
    assert "No row holds all these words" in as_auditor.get(page, {"q": "unheard of"}).text


@pytest.mark.parametrize("count", [1, 3])
def test_tests_cost_the_same_for_one_and_three(
    count, as_auditor, tables, django_assert_num_queries
):
    for _ in range(count):
        reel = given_documented_reel()
        given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000)
    with django_assert_num_queries(4):
        assert as_auditor.get(reverse("certs:tests")).text.count("BT-0") >= count


@pytest.mark.parametrize("count", [1, 3])
def test_proofs_cost_the_same_for_one_and_three(
    count, as_auditor, tables, django_assert_num_queries
):
    for _ in range(count):
        given_proof_test()
    with django_assert_num_queries(4):
        assert as_auditor.get(reverse("certs:proof_tests")).text.count("PT-0") >= count


def test_a_force_typed_in_pounds_stays_beside_the_newtons(as_quality, tables):
    asked = {
        "name": "Agreement in pounds",
        "edition": "2026",
        "agreed_with": str(given_customer().pk),
        "paper": "signed letter",
        "designation": "4 7x7 1770 B sZ",
        "force_n": "2000 lbf",
    }
    answer = as_quality.post(reverse("certs:add_agreed"), asked, follow=True)
    # NIST SP 811: 1 lbf = 4.448 221 615 260 5 N, exact.
    assert "8.896 kN (2000 lbf)" in answer.content.decode()
