import pytest

from inventory.queries.kept_files import read_file
from tests.api import get, post
from tests.certs.recalls import answered, given_doubt, sent, written


@pytest.fixture
def doubt(tables):
    return given_doubt()


def test_letters_are_written_once_to_each_customer(qa, doubt):
    letters = post(qa, "recall-notices/", {"hold": doubt.hold.code, "words": "Broken wires."})[
        "letters"
    ]
    assert [(one["customer"], one["names"]) for one in letters] == [
        (doubt.first.code, [doubt.piece.code, doubt.certificate.number]),
        (doubt.second.code, [doubt.sling.code]),
    ]
    assert {one["words"] for one in letters} == {"Broken wires."}
    assert post(qa, "recall-notices/", {"hold": doubt.hold.code}) == {"letters": []}


def test_a_letter_is_fetched_sent_and_answered(qa, doubt):
    [notice, _] = written(doubt.hold)
    answer = qa.get(f"/api/recall-notices/{notice.code}/letter/")
    assert answer.content == read_file(notice.letter)
    assert post(qa, f"recall-notices/{notice.code}/sent/", {"how": "by post"})["sent_how"]
    notice.refresh_from_db()
    body = {"who": "their stores", "when": notice.sent_at.isoformat(), "note": "all found"}
    told = post(qa, f"recall-notices/{notice.code}/acknowledge/", body)
    assert (told["acknowledged_by"], told["acknowledgement"]) == ("their stores", "all found")
    again = qa.post(f"/api/recall-notices/{notice.code}/acknowledge/", body, format="json")
    assert again.status_code == 409


def test_the_list_is_narrowed(qa, doubt):
    first, second = written(doubt.hold)
    answered(sent(first))
    narrowed = {
        first.code: {"is_answered": "true"},
        second.code: {"is_answered": "false"},
    }
    for code, query in narrowed.items():
        assert [one["code"] for one in get(qa, "recall-notices/", **query)["results"]] == [code]
    found = get(qa, "recall-notices/", hold=doubt.hold.code, customer=doubt.second.code)
    assert [one["code"] for one in found["results"]] == [second.code]
    assert get(qa, "recall-notices/", hold="X-99999")["results"] == []


def test_a_released_hold_is_refused_with_its_reason(qa, doubt):
    post(qa, f"holds/{doubt.hold.code}/release/", {"reason": "looked over"})
    answer = qa.post("/api/recall-notices/", {"hold": doubt.hold.code}, format="json")
    assert answer.status_code == 409
    assert "is released" in answer.json()["problem"]
