"""A load to be marked is refused when drafting, where it may not stand."""

import json

import pytest

from certs.models import Certificate
from certs.rules.working_load import MarkedTooHigh
from certs.services.drafts import CannotDraft, Wording, draft_assembly, draft_cut_length
from inventory.models import JournalEntry
from inventory.rules.refusal import Refusal
from tests.certs.papers import given_certifiable_assembly, given_certifiable_piece
from tests.factories import MOMENT, given_assembly

pytestmark = pytest.mark.usefixtures("tables")


def marked(kg, kind="2.2"):
    return Wording(document_kind=kind, marked_kg=kg)


# EN 13414-1:2003 Table 4 prints 1.7 t for one leg of 12 mm, steel core, grade 1770.
def test_a_mark_up_to_what_governs_is_kept_and_journalled(qa_officer):
    assembly = given_certifiable_assembly()
    draft = draft_assembly(assembly=assembly, wording=marked(1700), by=qa_officer, at=MOMENT)
    assert Certificate.objects.get(pk=draft.pk).marked_kg == 1700
    entry = JournalEntry.objects.get(subject=draft.draft_code)
    assert json.loads(entry.canonical)["detail"]["marked_kg"] == 1700


def test_a_kilogram_more_is_refused_and_nothing_is_drafted(qa_officer):
    assembly = given_certifiable_assembly()
    with pytest.raises(MarkedTooHigh, match=r"1\.701 t may not be marked"):
        draft_assembly(assembly=assembly, wording=marked(1701), by=qa_officer, at=MOMENT)
    assert not Certificate.objects.exists()


def test_what_is_not_rated_is_not_marked(qa_officer):
    without_basis = given_assembly()
    with pytest.raises(Refusal, match="no working load limit"):
        draft_assembly(assembly=without_basis, wording=marked(10), by=qa_officer, at=MOMENT)


def test_cut_rope_is_not_marked(qa_officer):
    with pytest.raises(CannotDraft, match="Only an assembly"):
        draft_cut_length(
            pieces=[given_certifiable_piece()],
            wording=marked(10, "statement"),
            by=qa_officer,
            at=MOMENT,
        )
