"""Where the one search box leads: straight to what was meant, or to a list of what it could be."""

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from inventory.rules.roles import Role
from inventory.rules.tag_code import grouped
from tests.certs.sites import given_report, given_tag
from tests.clients import client_of
from tests.factories import given_customer, given_heat, given_order_line, given_piece, given_reel
from tests.inventory.documents.test_code_photo import code, sent


def led_to(client, text):
    return client.get(reverse("certs:find"), {"q": text}).headers.get("Location")


@pytest.mark.parametrize(
    ("name", "page"),
    [("breaking", "breaking_test"), ("proof", "proof_test"), ("wires", "wire_test"),
     ("check", "receiving_check"), ("draft", "certificate")],
)  # fmt: skip
def test_a_claim_leads_to_its_page(name, page, as_auditor, claims):
    claim = getattr(claims, name)
    found = getattr(claim, "draft_code", "") or claim.code
    assert led_to(as_auditor, found.lower()) == reverse(f"certs:{page}", args=[found])


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(lambda claims: grouped(claims.tag.code), id="tag"),
        pytest.param(lambda claims: f"HTTPS://ROPE.EXAMPLE/T/{claims.tag.code}", id="QR"),
        pytest.param(lambda claims: claims.certificate.number, id="certificate"),
        pytest.param(lambda claims: claims.piece.code, id="piece"),
    ],
)
def test_what_stands_on_goods_or_paper_leads_to_the_story(text, as_auditor, claims):
    answer = as_auditor.get(reverse("certs:find"), {"q": text(claims)}, follow=True)
    assert f"Story of {claims.piece.code}" in answer.text


def test_two_heats_of_one_number_are_listed_with_their_mills(as_auditor, tables):
    heats = [given_heat(number="70707"), given_heat(number="70707-B")]
    assert led_to(as_auditor, "70707") == f"/trace/?code={heats[0].code}"
    text = as_auditor.get(reverse("certs:find"), {"q": "7070"}).text
    assert all(f"/trace/?code={heat.code}" in text for heat in heats)


def test_a_customer_is_told_with_his_orders(as_auditor, tables):
    customer = given_customer("Invented Hoists")
    order = given_order_line(customer=customer).order
    text = as_auditor.get(reverse("certs:find"), {"q": "hoists"}).text
    assert f"/orders/?customer={customer.code}" in text
    assert reverse("inventory:order", args=[order.code]) in text


def test_what_nobody_recorded_is_said_so_with_how_codes_look(as_auditor, db):
    text = as_auditor.get(reverse("certs:find"), {"q": "r4711"}).text
    assert "Nothing on record is called that." in text
    assert "the code R-04711" in text
    assert "How codes look" in text
    assert 'value="r4711"' in text


def test_a_report_is_found_by_those_who_read_reports(as_auditor, claims):
    report = given_report(given_tag(claims.piece))
    assert led_to(as_auditor, report.code) == reverse("certs:site_report", args=[report.code])
    assert led_to(client_of(Role.STORES), report.code) is None


def test_a_photograph_of_a_tag_leads_to_its_story(as_auditor, tables):
    piece = given_piece(reel=given_reel())
    tag = given_tag(piece)
    photo = sent(code(f"HTTPS://ROPE.EXAMPLE/T/{tag.code}").rotate(17, fillcolor=96))
    upload = SimpleUploadedFile("tag.jpg", photo, "image/jpeg")
    answer = as_auditor.post(reverse("certs:find"), {"photograph": upload}, follow=True)
    assert f"Story of {piece.code}" in answer.text


@pytest.mark.parametrize(
    ("content", "said"),
    [
        pytest.param(sent(code("x").point(lambda _: 96)), "No QR could be read", id="no code"),
        pytest.param(b"%PDF-1.7 no picture", "JPEG or PNG", id="no picture"),
    ],
)
def test_a_photograph_that_shows_no_code_is_refused_in_words(content, said, as_auditor, db):
    upload = SimpleUploadedFile("tag.jpg", content, "image/jpeg")
    answer = as_auditor.post(reverse("certs:find"), {"photograph": upload})
    assert answer.status_code == 200
    assert said in answer.text


def test_the_box_stands_on_every_page_of_the_house_and_on_none_of_strangers(as_auditor, client):
    assert 'role="search"' in as_auditor.get(reverse("inventory:reels")).text
    assert 'role="search"' not in client.get("/sign-in/").text
