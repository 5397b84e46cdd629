import re
from io import BytesIO

import pikepdf
import pytest
from django.urls import reverse

from certs.services.withdraw import withdraw_certificate
from inventory.rules.tag_code import grouped
from tests.certs.sites import given_report
from tests.factories import MOMENT, given_hold, given_person

# Well formed, and never issued: fifteen symbols and their check symbol.
BRINGS_THE_WORKER = (
    'addEventListener("load",()=>{navigator.serviceWorker&&navigator.serviceWorker'
    '.register(location.pathname.slice(0,3)+"worker.js").catch(()=>{})})'
)
UNKNOWN = "000000000000000" + "0"


def withdrawn(certificate):
    withdraw_certificate(certificate=certificate, reason="wrong rope", by=given_person(), at=MOMENT)


def test_a_good_piece_is_told_to_anyone(client, claims):
    answer = client.get(f"/t/{claims.tag.code}")
    assert answer.status_code == 200
    assert "Good on record" in answer.text
    assert "98.9 kN" in answer.text
    assert claims.piece.code in answer.text


def test_the_address_in_the_qr_is_in_capitals(client, claims):
    assert client.get(f"/T/{claims.tag.code}").status_code == 200


def test_a_code_is_understood_as_people_type_it(client, claims):
    typed = grouped(claims.tag.code).lower()
    answer = client.get(reverse("certs:tag_typed"), {"code": typed}, follow=True)
    assert "Good on record" in answer.text


def test_who_has_typed_nothing_yet_is_asked_not_warned(client, db):
    text = client.get(reverse("certs:tag_typed")).text
    assert "type its code" in text
    assert "No such tag" not in text


def test_no_customer_is_named(client, claims):
    text = client.get(f"/t/{claims.tag.code}").text
    assert "Invented Customer" not in text
    assert "PO-77" not in text


def test_a_hold_stops_it_and_no_load_is_given(client, claims):
    given_hold(claims.reel)
    text = client.get(f"/t/{claims.tag.code}").text
    assert "<h1>Do not use</h1>" in text
    assert "98.9 kN" not in text
    assert "in force, but the item is not good" in text


def test_a_report_of_damage_that_is_not_settled_is_told_beside_the_load(client, claims):
    given_report(claims.tag)
    text = client.get(f"/t/{claims.tag.code}").text
    assert "Good on record, but reported" in text
    assert "not settled yet: damage seen" in text
    assert "nothing on record speaks against it" not in text
    assert "98.9 kN" in text


def test_a_withdrawn_paper_stops_it(client, claims):
    withdrawn(claims.certificate)
    text = client.get(f"/t/{claims.tag.code}").text
    assert "<h1>Do not use</h1>" in text
    assert "wrong rope" in text


@pytest.mark.parametrize("code", ["AAAA", "0" * 15 + "1", "x" * 300, UNKNOWN])
def test_wrong_and_unknown_codes_get_one_and_the_same_answer(code, client, db):
    answer = client.get(f"/t/{code}")
    known = client.get("/t/nothing")
    assert answer.status_code == 404
    assert _without_nonce(answer) == _without_nonce(known)


def test_nothing_is_kept_indexed_or_passed_on(client, claims):
    answer = client.get(f"/t/{claims.tag.code}")
    assert answer["Cache-Control"] == "no-store"
    assert "noindex" in answer["X-Robots-Tag"]
    assert answer["Referrer-Policy"] == "no-referrer"
    assert not answer.cookies


def test_it_is_one_small_request_and_its_script_only_brings_the_worker(client, claims):
    answer = client.get(f"/t/{claims.tag.code}")
    assert re.findall(r"<script[^>]*>(.*?)</script>", answer.text) == [BRINGS_THE_WORKER]
    assert not re.findall(r'(?:src|href)="/static', answer.text)
    nonce = re.search(r'<style nonce="([^"]+)"', answer.text)
    assert nonce is not None
    assert f"'nonce-{nonce[1]}'" in answer["Content-Security-Policy"]


def test_the_paper_is_given_without_the_purchaser(client, claims):
    address = f"/t/{claims.tag.code}/paper/{claims.certificate.number}.pdf"
    assert address in client.get(f"/t/{claims.tag.code}").text
    answer = client.get(address)
    with pikepdf.open(BytesIO(answer.content)) as paper:
        assert not paper.attachments
    assert answer["Cache-Control"] == "no-store"


def test_no_paper_is_given_for_what_must_not_be_used(client, claims):
    given_hold(claims.reel)
    address = f"/t/{claims.tag.code}/paper/{claims.certificate.number}.pdf"
    assert client.get(address).status_code == 404


def test_the_paper_of_another_thing_is_not_given(client, claims):
    assert client.get(f"/t/{claims.tag.code}/paper/CL-2026-00999.pdf").status_code == 404


def test_a_tag_cannot_be_posted_to(client, claims):
    assert client.post(f"/t/{claims.tag.code}").status_code == 405


def _without_nonce(answer):
    return re.sub(r'nonce="[^"]*"', "", answer.text)
