from django.urls import reverse

from certs.models import StrengthBasis
from tests.certs.claims import given_basis, given_factor
from tests.factories import given_reel


def page_of(reel):
    return reverse("certs:reel_strength", args=[reel.code])


def test_a_reel_without_a_basis_is_told_what_may_be_named(as_quality, tables):
    answer = as_quality.get(page_of(given_reel()))
    assert "Nothing can be certified yet" in answer.text
    # K = 0.388 for 7x7 with a wire strand core (EN 12385-2): 0.388 x 12² x 1770 / 1000.
    assert "98.9 kN: factor K = 0.388" in answer.text


def test_the_derivation_is_shown_unrounded_and_stated(as_auditor, tables):
    reel = given_reel()
    given_basis(reel)
    text = as_auditor.get(page_of(reel)).text
    assert "98.89344 kN" in text
    assert "three significant figures, half up" in text
    assert "The breaking force is that of the rope without terminations." in text


def test_a_basis_is_named(as_quality, tables):
    reel = given_reel()
    chosen = {"basis": f"factor-{given_factor('6x7', 'WSC').pk}", "reason": "as ordered"}
    answer = as_quality.post(page_of(reel), chosen, follow=True)
    assert "The basis of R-00001 is named." in answer.text
    assert StrengthBasis.objects.get(reel=reel).reason == "as ordered"


def test_a_basis_without_a_row_is_refused_and_what_was_typed_is_kept(as_quality, tables):
    answer = as_quality.post(page_of(given_reel()), {"reason": "as ordered, see PO 1"})
    assert 'value="as ordered, see PO 1"' in answer.text
    assert "error-summary" in answer.text


def test_an_auditor_names_no_basis(as_auditor, tables):
    reel = given_reel()
    assert "Name this basis" not in as_auditor.get(page_of(reel)).text
    chosen = {"basis": f"factor-{given_factor('6x7', 'WSC').pk}", "reason": "as ordered"}
    as_auditor.post(page_of(reel), chosen)
    assert not StrengthBasis.objects.filter(reel=reel).exists()
