import json
from io import BytesIO

import pikepdf
import pytest
from django.urls import reverse

from certs.models import Certificate
from tests.certs.papers import (
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
)
from tests.factories import given_customer, given_hold, given_piece, given_reel


def page_of(certificate):
    return reverse("certs:certificate", args=[certificate.number or certificate.draft_code])


def test_pieces_of_a_reel_are_filled_in(as_quality, tables):
    piece = given_certifiable_piece()
    page = f"{reverse('certs:draft_cut_length')}?taken_from={piece.reel.code}"
    assert piece.code in as_quality.get(page).text


def test_a_draft_is_made_of_pieces(as_quality, tables):
    piece = given_certifiable_piece()
    asked = {"pieces": piece.code, "document_kind": "statement"}
    answer = as_quality.post(reverse("certs:draft_cut_length"), asked, follow=True)
    assert "What it needs before it is issued" in answer.text
    assert Certificate.objects.get().piece_ties.get().piece == piece


def test_an_unknown_piece_is_refused_and_the_rest_is_kept(as_quality, tables):
    asked = {"pieces": "P-99999", "document_kind": "statement", "remarks": "for the crane"}
    answer = as_quality.post(reverse("certs:draft_cut_length"), asked)
    assert "no cut piece" in answer.text
    assert "for the crane" in answer.text


def test_a_draft_says_what_it_lacks_and_offers_no_paper(as_quality, tables):
    draft = given_cut_length_draft(given_piece(reel=given_reel()))
    text = as_quality.get(page_of(draft)).text
    assert "lacking" in text
    assert "disabled" in text
    assert "Save the PDF" not in text
    assert (
        as_quality.get(reverse("certs:certificate_pdf", args=[draft.draft_code])).status_code == 404
    )


def test_a_draft_shows_what_it_will_say(as_auditor, tables):
    text = as_auditor.get(page_of(given_cut_length_draft())).text
    assert "Draft, not a certificate." in text
    assert "98.9 kN" in text


def test_a_draft_is_issued_once_and_for_good(as_quality, tables):
    draft = given_cut_length_draft()
    answer = as_quality.post(reverse("certs:issue", args=[draft.draft_code]), follow=True)
    number = Certificate.objects.get().number
    assert f"{number} is issued." in answer.text
    pdf = as_quality.get(reverse("certs:certificate_pdf", args=[number]))
    with pikepdf.open(BytesIO(pdf.content)) as paper:
        assert len(paper.pages) > 0


def test_a_draft_under_hold_is_not_issued_and_the_page_says_why(as_quality, tables):
    reel = given_documented_reel()
    draft = given_cut_length_draft(given_certifiable_piece(reel=reel))
    given_hold(reel)
    answer = as_quality.post(reverse("certs:issue", args=[draft.draft_code]), follow=True)
    assert "cannot be issued yet" in answer.text
    assert Certificate.objects.get().state == "draft"


@pytest.mark.parametrize("act", ["issue", "discard"])
def test_an_auditor_neither_issues_nor_discards(act, as_auditor, tables):
    draft = given_cut_length_draft()
    assert as_auditor.post(reverse(f"certs:{act}", args=[draft.draft_code])).status_code == 403
    assert Certificate.objects.get().state == "draft"


def test_nothing_is_issued_by_looking(as_quality, tables):
    draft = given_cut_length_draft()
    assert as_quality.get(reverse("certs:issue", args=[draft.draft_code])).status_code == 405


def test_a_draft_is_thrown_away_once_that_is_asked_for_twice(as_quality, tables):
    draft = given_cut_length_draft()
    asked = reverse("certs:discard", args=[draft.draft_code])
    assert f'href="{asked}"' in as_quality.get(page_of(draft)).text
    page = as_quality.get(asked)
    assert draft.piece_ties.get().piece.code in page.text
    assert "cannot be undone" in page.text
    assert Certificate.objects.exists()
    as_quality.post(asked)
    assert not Certificate.objects.exists()


@pytest.mark.parametrize("send", ["get", "post"])
def test_what_is_issued_is_withdrawn_and_never_thrown_away(send, as_quality, claims):
    asked = reverse("certs:discard", args=[claims.certificate.draft_code])
    page = getattr(as_quality, send)(asked, follow=True)
    assert "withdraw it instead" in page.text
    assert page.redirect_chain[-1][0] == page_of(claims.certificate)


def test_a_page_says_that_a_key_file_is_lost(as_quality, tables, tmp_path, settings):
    draft = given_cut_length_draft()
    settings.KEYS_ROOT = tmp_path / "nothing-here"
    page = as_quality.get(page_of(draft))
    assert "Put it back from its backup" in page.text
    assert "disabled" in page.text
    assert "Put it back from its backup" in as_quality.get(reverse("certs:issue_several")).text


def test_the_data_is_handed_out_byte_for_byte(as_auditor, claims):
    number = claims.certificate.number
    answer = as_auditor.get(reverse("certs:certificate_json", args=[number]))
    assert answer.content.decode() == claims.certificate.snapshot
    assert json.loads(answer.content)["number"] == number


def test_a_certificate_is_withdrawn_for_a_reason(as_quality, claims):
    page = reverse("certs:withdraw", args=[claims.certificate.number])
    answer = as_quality.post(page, {"reason": "wrong heat named"}, follow=True)
    assert "Withdrawn. Do not rely on it." in answer.text
    assert "wrong heat named" in answer.text


def test_a_correction_is_drafted_with_the_wording_of_the_old_one(as_quality, claims):
    page = reverse("certs:correct", args=[claims.certificate.number])
    assert "PO-77" in as_quality.get(page).text
    asked = {"reason": "purchaser changed", "document_kind": "statement"}
    answer = as_quality.post(page, asked, follow=True)
    assert "purchaser changed" in answer.text
    assert Certificate.objects.get(replaces=claims.certificate).state == "draft"


def test_a_superseded_paper_names_the_one_in_its_place_in_a_sentence_of_its_own(as_quality, claims):
    old = claims.certificate
    asked = {"reason": "purchaser changed", "document_kind": "statement"}
    as_quality.post(reverse("certs:correct", args=[old.number]), asked)
    draft = Certificate.objects.get(replaces=old)
    as_quality.post(reverse("certs:issue", args=[draft.draft_code]))
    draft.refresh_from_db()
    text = as_quality.get(reverse("certs:certificate", args=[old.number])).text
    assert f'purchaser changed</p><p>In its place: <a href="/certificates/{draft.number}/"' in text
    assert f"{draft.number}</a>." in text
    withdrawing = reverse("certs:withdraw", args=[draft.number])
    as_quality.post(withdrawing, {"reason": "the rope was sold as scrap"})
    text = as_quality.get(reverse("certs:certificate", args=[old.number])).text
    assert f"{draft.number}</a>, withdrawn itself." in text


def test_certificates_are_found_by_state_and_words(as_auditor, claims):
    page = reverse("certs:certificates")
    drafts = as_auditor.get(page, {"state": "draft"}).text
    assert claims.draft.draft_code in drafts
    assert claims.certificate.number not in drafts
    assert claims.certificate.number in as_auditor.get(page, {"q": claims.piece.code}).text
    assert "No certificate is like this" in as_auditor.get(page, {"q": "nothing"}).text


@pytest.mark.parametrize("count", [1, 3])
def test_a_list_costs_the_same_for_one_and_three(
    count, as_auditor, tables, django_assert_num_queries
):
    reel = given_documented_reel()
    for number in range(count):
        customer = given_customer(f"Invented Customer {number}")
        given_cut_length_draft(given_certifiable_piece(reel=reel), customer=customer)
    with django_assert_num_queries(4):
        assert as_auditor.get(reverse("certs:certificates")).status_code == 200
