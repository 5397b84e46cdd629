import pytest
from django.urls import reverse

from certs.models import RecallNotice
from inventory.queries.kept_files import read_file
from inventory.rules.roles import Role
from tests.certs.recalls import answered, given_doubt, sent, written
from tests.certs.sites import given_report
from tests.clients import client_of
from tests.factories import given_hold, given_machine, given_piece
from tests.words import words_of


@pytest.fixture
def doubt(tables):
    return given_doubt()


@pytest.fixture
def notice(doubt):
    return written(doubt.hold)[0]


def recall_of(hold):
    return reverse("certs:hold_recall", args=[hold.code])


def page(name, notice):
    return reverse(f"certs:{name}", args=[notice.code])


def test_the_page_of_a_hold_leads_to_its_recall(as_quality, doubt):
    assert recall_of(doubt.hold) in as_quality.get(f"/holds/{doubt.hold.code}/").text


def test_it_tells_who_has_what_and_that_nobody_was_told(as_quality, doubt):
    text = as_quality.get(recall_of(doubt.hold)).text
    assert "2 customers were not told" in text
    assert "First Customer" in text
    assert doubt.sling.code in text
    assert doubt.sound.code not in text


def test_letters_are_written_from_it(as_quality, doubt):
    address = reverse("certs:write_letters", args=[doubt.hold.code])
    assert "broken wires seen" in as_quality.get(address).text
    answer = as_quality.post(address, {"words": "Broken wires were found."}, follow=True)
    assert "RN-00001, RN-00002" in answer.text
    assert "were not told" not in answer.text
    assert "written, not sent" in answer.text
    again = as_quality.post(address, {"words": "Once more."}, follow=True)
    assert "Everybody was told already" in again.text
    assert RecallNotice.objects.count() == 2


def test_a_letter_is_handed_out_as_it_was_written(as_auditor, notice):
    answer = as_auditor.get(page("recall_letter", notice))
    assert answer["Content-Type"] == "application/pdf"
    assert answer.content == read_file(notice.letter)


def test_a_letter_is_sent_and_answered(as_quality, notice):
    as_quality.post(page("recall_sent", notice), {"how": "by post"})
    notice.refresh_from_db()
    assert notice.sent_how == "by post"
    asked = as_quality.get(page("recall_answer", notice)).text
    assert "What was found" in asked
    when = notice.sent_at.strftime("%Y-%m-%dT%H:%M")
    values = {"who": "their stores", "when": when, "note": "all found"}
    text = as_quality.post(page("recall_answer", notice), values, follow=True).text
    assert "all found" in text
    assert "answered" in text


@pytest.mark.parametrize(
    ("name", "values", "said"),
    [
        pytest.param("recall_sent", {"how": ""}, "How it was sent", id="no way"),
        pytest.param(
            "recall_answer",
            {"who": "them", "when": "2026-03-04T10:00"},
            "was not sent yet",
            id="not sent",
        ),
        pytest.param("recall_answer", {"who": "them", "when": "yesterday"}, "When", id="no moment"),
    ],
)
def test_what_cannot_be_recorded_is_said(as_quality, notice, name, values, said):
    answer = as_quality.post(page(name, notice), values)
    assert answer.status_code == 200
    assert said in answer.text


@pytest.mark.parametrize("role", Role)
def test_everyone_of_the_house_reads_and_the_qa_officer_acts(doubt, notice, role):
    client = client_of(role)
    for address in (
        recall_of(doubt.hold),
        reverse("certs:recall_notices"),
        page("recall_notice", notice),
    ):
        assert client.get(address).status_code == 200
    acts = {
        reverse("certs:write_letters", args=[doubt.hold.code]),
        page("recall_sent", notice),
        page("recall_answer", notice),
    }
    status = 200 if role is Role.QA_OFFICER else 403
    assert {client.get(address).status_code for address in acts} == {status}


@pytest.mark.parametrize(
    ("state", "listed"), [("", "RN-00002"), ("answered", "RN-00001"), ("all", "RN-00001")]
)
def test_letters_without_an_answer_are_listed_first(as_quality, notice, state, listed):
    answered(sent(notice))
    text = as_quality.get(reverse("certs:recall_notices"), {"state": state}).text
    assert listed in text


def test_a_machine_and_an_unsold_reel_are_told_as_what_they_are(as_quality, db):
    machine, reel = given_hold(given_machine()), given_hold(given_piece().reel)
    assert "nothing is made of it" in as_quality.get(recall_of(machine)).text
    assert "nobody has to be told" in as_quality.get(recall_of(reel)).text


def test_letters_wait_on_the_first_page_until_they_are_answered(as_stores, doubt):
    first, second = written(doubt.hold)
    text = words_of(as_stores.get("/").text)
    assert f"{first.code}: First Customer" in text
    assert "written, not sent" in text
    answered(sent(first))
    text = words_of(as_stores.get("/").text)
    assert f"{first.code}: First Customer" not in text
    assert second.code in text


def test_reports_wait_on_the_first_page_for_those_who_read_them(as_quality, as_stores, db):
    report = given_report(words="It parted under load.")
    assert "It parted under load." in as_quality.get("/").text
    text = as_stores.get("/").text
    assert report.code not in text
    assert "It parted" not in text
