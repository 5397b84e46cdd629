"""Batches and one-step drafts over the API."""

import pytest

from certs.models import Certificate
from certs.services.issue_batch import start_batch
from tests.api import get, post
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.factories import MOMENT, given_customer, given_person, given_piece

pytestmark = pytest.mark.usefixtures("tables")


def test_all_drafts_are_handed_over_and_told_one_by_one(qa):
    ready = given_cut_length_draft(given_certifiable_piece())
    lacking = given_cut_length_draft(given_piece())
    batch = post(qa, "certificates/batches/")
    assert (batch["standing"], batch["issued"], batch["stayed"]) == ("finished", 1, 1)
    assert get(qa, f"certificates/batches/{batch['code']}/") == batch
    lines = get(qa, f"certificates/batches/{batch['code']}/lines/")["results"]
    told = [(line["draft_code"], line["outcome"]) for line in lines]
    assert told == [(ready.draft_code, "issued"), (lacking.draft_code, "stayed")]


def test_only_those_named_or_of_a_thing_are_handed_over(qa):
    first, second = given_cut_length_draft(), given_cut_length_draft()
    piece = second.piece_ties.get().piece
    assert post(qa, "certificates/batches/", {"of": piece.code})["issued"] == 1
    assert post(qa, "certificates/batches/", {"drafts": [first.draft_code]})["issued"] == 1
    answer = qa.post("/api/certificates/batches/", {"drafts": ["CD-99999"]}, format="json")
    assert (answer.status_code, answer.json()["field"]) == (400, "drafts")


def test_a_batch_is_stopped_and_another_taken_up(qa):
    codes = [given_cut_length_draft().draft_code]
    first, second = (
        start_batch(draft_codes=codes, by=given_person(), at=MOMENT).code for _ in range(2)
    )
    assert post(qa, f"certificates/batches/{first}/stop/")["left_out"] == 1
    assert get(qa, f"certificates/batches/{second}/")["standing"] == "quiet"
    assert post(qa, f"certificates/batches/{second}/go-on/")["issued"] == 1


def test_a_thing_gets_its_draft_in_one_step(qa):
    piece = given_certifiable_piece()
    draft = post(qa, "certificates/own/", {"of": piece.code})
    assert (draft["state"], draft["document_kind"]) == ("draft", "statement")
    assert post(qa, "certificates/own/", {"of": piece.code}) == draft
    answer = qa.post("/api/certificates/own/", {"of": "P-99999"}, format="json")
    assert (answer.status_code, list(answer.json())) == (400, ["of"])


def test_a_draft_is_worded_anew_and_looked_at(qa):
    draft, customer = given_cut_length_draft(remarks="before"), given_customer("Another Customer")
    path = f"certificates/{draft.draft_code}"
    changed = post(qa, f"{path}/wording/", {"customer": customer.code})
    assert (changed["customer"], changed["remarks"]) == (customer.code, "before")
    answer = qa.get(f"/api/{path}/preview/")
    assert answer.content.startswith(b"%PDF")
    issued(draft)
    assert qa.post(f"/api/{path}/wording/", {"remarks": "x"}, format="json").status_code == 409
    assert Certificate.objects.get().remarks == "before"
