import pytest
from django.urls import reverse

from certs.models import StrengthBasis
from certs.services.specify import name_basis
from inventory.services.rewind import rewind_reel
from tests.certs.checks import given_check
from tests.certs.claims import given_basis, given_factor
from tests.factories import MOMENT, given_mill_document, given_person, given_reel


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


AGAIN = "Check the reel again: declared force against the basis"


def test_a_basis_named_after_the_check_asks_for_another(as_quality, tables):
    # K of 6x7 with a strand core is 0.388 (Feyrer, Table 1.9): 98.9 kN at 12 mm and 1770.
    reel = given_reel(declared_force_n=98_900)
    given_check(reel)
    assert AGAIN not in as_quality.get(page_of(reel)).text
    given_basis(reel)
    answer = as_quality.get(page_of(reel))
    link = reverse("certs:check_reel", args=[reel.code])
    assert f'<a href="{link}">{AGAIN}</a>' in answer.text
    wound = rewind_reel(reel=reel, from_mm=0, to_mm=9, by=given_person(), at=MOMENT)
    assert f'<a href="{link}">{AGAIN}</a>' in as_quality.get(page_of(wound)).text
    given_check(reel)
    assert AGAIN not in as_quality.get(page_of(reel)).text


@pytest.mark.parametrize(
    ("declared_n", "kind"),
    [
        pytest.param(None, "factor", id="nothing declared"),
        pytest.param(90_000, "declared", id="the declared force is the basis"),
    ],
)
def test_no_other_check_is_asked_for_where_it_would_say_no_more(
    declared_n, kind, as_quality, tables
):
    reel = given_reel(declared_force_n=declared_n, mill_document=given_mill_document())
    given_check(reel)
    factor = given_factor("6x7", "WSC") if kind == "factor" else None
    name_basis(
        reel=reel, kind=kind, factor=factor, reason="as ordered", by=given_person(), at=MOMENT
    )
    assert AGAIN not in as_quality.get(page_of(reel)).text


def test_a_reel_never_checked_is_not_checked_again(as_quality, tables):
    reel = given_reel(declared_force_n=98_900)
    given_basis(reel)
    assert AGAIN not in as_quality.get(page_of(reel)).text


def test_an_auditor_names_no_basis(as_auditor, tables):
    reel = given_reel()
    assert "Name this basis" not in as_auditor.get(page_of(reel)).text
    chosen = {"basis": f"factor-{given_factor('6x7', 'WSC').pk}", "reason": "as ordered"}
    as_auditor.post(page_of(reel), chosen)
    assert not StrengthBasis.objects.filter(reel=reel).exists()
