"""Issuing signs the journal, and a paper names the checkpoint before it."""

import json

import pytest
from django.db import connection

from certs.models import Certificate
from inventory.models import Checkpoint, JournalEntry, JournalHead, NumberSeries
from inventory.models.guards import take_down
from inventory.models.ledger_guards import GUARDS
from inventory.queries.checkpoints import log_keys, standing_checkpoint
from inventory.queries.kept_files import read_file
from inventory.rules.checkpoint import open_checkpoint
from inventory.services.checkpoint import CannotCheckpoint
from tests.certs.documents.test_certificate_pdf import text_of
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import given_keys
from tests.inventory.services.record import refuses

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


@pytest.fixture(autouse=True)
def origin(settings):
    settings.PUBLIC_ORIGIN = "https://records.example"
    return "records.example/log"


def test_issuing_signs_the_journal_with_its_own_entry_in_it(origin):
    given_keys()
    paper = issued(given_cut_length_draft())
    entry = JournalEntry.objects.get(act="issue_certificate", subject=paper.number)
    opened = open_checkpoint(standing_checkpoint().note, keys=log_keys(origin))
    assert opened.head.size == entry.number + 1 == JournalEntry.objects.count()


def test_a_paper_names_the_checkpoint_before_it(origin):
    given_keys()
    first = issued(given_cut_length_draft())
    before = standing_checkpoint()
    second = issued(given_cut_length_draft())
    assert json.loads(first.snapshot)["log"] is None
    assert json.loads(second.snapshot)["log"] == {
        "origin": origin,
        "size": before.size,
        "root": before.root,
    }
    assert standing_checkpoint().size > before.size
    told = text_of(read_file(second.pdf))
    assert f"{before.size} entries of {origin}" in told
    assert before.root in told.replace(" ", "")


def test_a_journal_written_anew_stops_every_paper():
    given_keys()
    issued(given_cut_length_draft())
    draft = given_cut_length_draft()
    series = NumberSeries.objects.get(series__startswith="CL-").last
    take_down(connection, [g for g in GUARDS if g.name == "journal_head_only_moves_on"])
    JournalHead.objects.update(peaks=["0" * 64] * len(JournalHead.objects.get().peaks))
    with refuses(CannotCheckpoint, "run manage.py audit"):
        issued(draft)
    draft.refresh_from_db()
    assert draft.state == Certificate.State.DRAFT
    assert NumberSeries.objects.get(series__startswith="CL-").last == series
    assert Checkpoint.objects.count() == 1
