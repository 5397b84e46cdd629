import errno
import json
from datetime import timedelta
from io import BytesIO
from threading import Barrier, Thread

import pikepdf
import pytest
from django.db import connection, transaction

from certs.models import RecallNotice
from certs.queries.recall_of_hold import codes_in
from certs.services import recall_notices as service
from certs.services.answer_recall import CannotRecordAnswer
from certs.services.load_specifications import load_specifications
from certs.services.recall_notices import LONGEST_WORDS, CannotRecall
from inventory.models import JournalEntry
from inventory.queries.kept_files import read_file
from inventory.rules.canonical import canonical_text
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from inventory.services.holds import release_hold
from inventory.services.numbering import RECALL_NOTICE, take_code
from tests.certs.claims import FOLDER
from tests.certs.recalls import ANSWERED, LATER, SENT, answered, given_doubt, sent, written
from tests.factories import (
    given_hold,
    given_machine,
    given_person,
)

OTHERS = [role for role in Role if role is not Role.QA_OFFICER]


@pytest.fixture
def doubt(tables):
    return given_doubt()


@pytest.fixture
def notice(doubt):
    return written(doubt.hold)[0]


def last():
    entry = JournalEntry.objects.order_by("-number").first()
    return entry, json.loads(entry.canonical)["detail"]


def test_every_customer_gets_one_letter_of_what_he_has(doubt):
    letters = written(doubt.hold)
    assert [(one.code, one.customer) for one in letters] == [
        ("RN-00001", doubt.first),
        ("RN-00002", doubt.second),
    ]
    assert [codes_in(one.facts) for one in letters] == [
        [doubt.piece.code, doubt.certificate.number],
        [doubt.sling.code],
    ]


def test_asked_again_nothing_is_written_twice(doubt):
    written(doubt.hold)
    assert written(doubt.hold) == []
    assert RecallNotice.objects.count() == 2


def test_a_further_hold_is_told_anew_and_wholly(doubt):
    written(doubt.hold)
    letters = written(given_hold(doubt.piece))
    assert [codes_in(one.facts) for one in letters] == [
        [doubt.piece.code, doubt.certificate.number]
    ]
    assert letters[0].facts["follows"] == []


def test_a_paper_that_comes_to_light_later_is_told_with_the_letter_it_goes_with(doubt, monkeypatch):
    whole = service.recall_of_hold
    with monkeypatch.context() as patch:
        patch.setattr(service, "recall_of_hold", lambda hold: whole(hold) | {"certificates": []})
        before = written(doubt.hold)
    [further] = written(doubt.hold)
    assert codes_in(before[0].facts) == [doubt.piece.code]
    assert further.customer == doubt.first
    assert codes_in(further.facts) == [doubt.certificate.number]
    assert further.facts["follows"] == [before[0].code]


def test_the_letter_is_kept_with_its_facts_in_it(notice):
    with pikepdf.open(BytesIO(read_file(notice.letter))) as pdf:
        enclosed = pdf.attachments["recall.json"].get_file().read_bytes()
    assert enclosed.decode() == canonical_text(notice.facts)
    assert notice.facts["number"] == notice.code


def test_the_customer_reads_the_reason_of_the_hold_unless_other_words_are_given(doubt):
    assert {one.facts["words"] for one in written(doubt.hold, words=" ")} == {"broken wires seen"}


def test_other_words_stand_in_the_letter(doubt):
    letters = written(doubt.hold, words="Broken outer wires were found on this reel.")
    assert letters[0].facts["words"].startswith("Broken outer wires")


def test_each_letter_is_journalled_without_names(doubt):
    letters = written(doubt.hold)
    entries = JournalEntry.objects.filter(act="write_recall").order_by("number")
    assert [entry.subject for entry in entries] == [letter.code for letter in letters]
    told = json.loads(entries[0].canonical)["detail"]
    assert told["letter_sha256"] == letters[0].letter.sha256
    assert told["names"] == [doubt.piece.code, doubt.certificate.number]
    assert str(letters[0].pk) in told["rows"]["certs.RecallNotice"]
    everything = "".join(JournalEntry.objects.values_list("canonical", flat=True))
    assert "First Customer" not in everything
    assert doubt.tag.code not in everything


def test_a_failure_half_way_leaves_whole_letters_and_no_gap(doubt, monkeypatch):
    real, calls = service.recall_letter_pdf, []

    def breaks_the_second_time(*args, **more):
        calls.append(args)
        if len(calls) == 2:
            raise OSError(errno.ENOSPC, "no room")
        return real(*args, **more)

    with monkeypatch.context() as patch:
        patch.setattr(service, "recall_letter_pdf", breaks_the_second_time)
        with pytest.raises(OSError, match="no room"):
            written(doubt.hold)
    assert [one.code for one in RecallNotice.objects.all()] == ["RN-00001"]
    assert [one.code for one in written(doubt.hold)] == ["RN-00002"]


def test_a_letter_whose_code_went_to_another_meanwhile_is_printed_anew(doubt, monkeypatch):
    real, printed = service.recall_letter_pdf, []

    def overtaken(facts, **more):
        if not printed:
            with transaction.atomic():
                take_code(RECALL_NOTICE)
        printed.append(facts["number"])
        return real(facts, **more)

    monkeypatch.setattr(service, "recall_letter_pdf", overtaken)
    letters = written(doubt.hold)
    assert printed == ["RN-00001", "RN-00002", "RN-00003"]
    assert [one.code for one in letters] == printed[1:]
    with pikepdf.open(BytesIO(read_file(letters[0].letter))) as pdf:
        assert printed[1] in str(pdf.docinfo["/Title"])


@pytest.mark.usefixtures("committed_db")
def test_a_letter_is_printed_with_nothing_locked(monkeypatch):
    load_specifications(folder=FOLDER)
    doubt, real, locked = given_doubt(), service.recall_letter_pdf, []

    def printing(facts, **more):
        locked.append(connection.in_atomic_block)
        return real(facts, **more)

    monkeypatch.setattr(service, "recall_letter_pdf", printing)
    written(doubt.hold)
    assert locked == [False, False]


def test_a_released_hold_recalls_nothing(doubt):
    release_hold(hold=doubt.hold, reason="looked over", by=given_person(), at=LATER)
    with pytest.raises(CannotRecall, match="is released"):
        written(doubt.hold)
    assert not RecallNotice.objects.exists()


def test_a_machine_is_told_how_it_is_recalled(db):
    with pytest.raises(CannotRecall, match="testing machine"):
        written(given_hold(given_machine()))


def test_too_many_words_are_refused(doubt):
    with pytest.raises(CannotRecall) as refused:
        written(doubt.hold, words="x" * (LONGEST_WORDS + 1))
    assert refused.value.field == "words"


def test_a_letter_is_sent_once(notice):
    done = sent(notice)
    assert (done.sent_at, done.sent_how, done.sent_by) == (SENT, "by post", given_person())
    assert last()[1]["deed"] == "send"
    with pytest.raises(CannotRecordAnswer, match="sent already"):
        sent(notice)


def test_an_answer_is_kept_once_and_its_name_is_not_in_the_journal(notice):
    done = answered(sent(notice), note="All ten found. John Nobody.")
    assert (done.acknowledged_at, done.acknowledged_by) == (ANSWERED, "their stores")
    entry, told = last()
    assert told["deed"] == "acknowledge"
    assert "stores" not in entry.canonical
    assert "Nobody" not in entry.canonical
    with pytest.raises(CannotRecordAnswer, match="answered already"):
        answered(notice)


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        pytest.param({"who": " "}, "who", id="from nobody"),
        pytest.param({"when": SENT - timedelta(seconds=1)}, "when", id="before it was sent"),
        pytest.param({"when": ANSWERED + timedelta(seconds=1)}, "when", id="in the future"),
        pytest.param({"who": "x" * 121}, "acknowledged_by", id="too long a name"),
        pytest.param({"note": "x" * 401}, "acknowledgement", id="too long a note"),
    ],
)
def test_an_answer_that_cannot_be_is_refused(notice, facts, field):
    sent(notice)
    with pytest.raises(CannotRecordAnswer) as refused:
        answered(notice, **facts)
    assert refused.value.field == field
    notice.refresh_from_db()
    assert notice.acknowledged_at is None


def test_what_was_not_sent_is_not_answered(notice):
    with pytest.raises(CannotRecordAnswer, match="not sent yet"):
        answered(notice)


def test_it_is_not_sent_without_a_way(notice):
    with pytest.raises(CannotRecordAnswer) as refused:
        sent(notice, how="")
    assert refused.value.field == "how"


@pytest.mark.parametrize("role", OTHERS)
def test_only_the_qa_officer_recalls(doubt, notice, role):
    with pytest.raises(NotAllowed):
        written(doubt.hold, by=given_person(role))
    with pytest.raises(NotAllowed):
        sent(notice, by=given_person(role))
    with pytest.raises(NotAllowed):
        answered(notice, by=given_person(role))
    assert RecallNotice.objects.filter(sent_at=None).count() == 2


@pytest.mark.skipif(connection.vendor != "postgresql", reason="SQLite has one writer at a time")
@pytest.mark.usefixtures("committed_db")
def test_two_writers_at_once_write_each_letter_once():
    load_specifications(folder=FOLDER)
    doubt = given_doubt()
    begin, failed = Barrier(2), []

    def write():
        try:
            begin.wait()
            written(doubt.hold)
        except Exception as error:  # noqa: BLE001 -- told by the test, not by the thread
            failed.append(error)
        finally:
            connection.close()

    threads = [Thread(target=write) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failed == []
    assert sorted(RecallNotice.objects.values_list("code", flat=True)) == ["RN-00001", "RN-00002"]
