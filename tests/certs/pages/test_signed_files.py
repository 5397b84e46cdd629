"""What the certificate's page tells of its signature, and the signed files it hands out."""

import json

import pytest
from django.urls import reverse

from certs.models import PaperRenewal
from inventory.documents.quantities import day
from inventory.models import SigningKey
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.files import keep_made
from inventory.services.keyring import revoke_key
from tests.factories import MOMENT, given_person, pdf_bytes

pytestmark = pytest.mark.django_db


def page(client, certificate):
    return client.get(reverse("certs:certificate", args=[certificate.number])).content.decode()


def test_the_credential_is_handed_out_byte_for_byte(claims, as_auditor):
    address = reverse("certs:certificate_credential", args=[claims.certificate.number])
    answer = as_auditor.get(address)
    assert answer["Content-Type"] == "application/vc+json"
    assert answer.content.decode() == claims.certificate.credential
    assert json.loads(answer.content)["proof"]["cryptosuite"] == "eddsa-jcs-2022"
    assert address in page(as_auditor, claims.certificate)


@pytest.mark.parametrize("name", ["certificate_credential", "renewed_paper"])
def test_a_draft_has_no_signed_file(claims, as_auditor, name):
    address = reverse(f"certs:{name}", args=[claims.draft.draft_code])
    assert as_auditor.get(address).status_code == 404


def test_the_page_names_the_keys_and_that_they_vouch_for_nobody(claims, as_auditor):
    told = page(as_auditor, claims.certificate)
    for purpose in (Purpose.PAPER, Purpose.CREDENTIAL):
        assert SigningKey.objects.get(purpose=purpose).name in told
    assert "Evaluation keys." in told
    assert "vouches for nobody" in told
    assert claims.certificate.credential_sha256 in told


def test_the_page_of_a_draft_says_what_will_sign_it(claims, as_auditor):
    address = reverse("certs:certificate", args=[claims.draft.draft_code])
    told = as_auditor.get(address).content.decode()
    assert "Keys to sign with" in told
    assert "Evaluation keys." not in told


def test_a_revoked_key_is_told_with_its_reason(claims, as_auditor):
    key = SigningKey.objects.get(purpose=Purpose.PAPER)
    by = given_person(Role.ADMINISTRATOR)
    revoke_key(key.name, reason="The laptop was stolen.", by=by, at=MOMENT)
    assert f"revoked on {day(MOMENT)}: The laptop was stolen." in page(
        as_auditor, claims.certificate
    )


def test_a_renewed_paper_stands_beside_the_issued_one(claims, as_auditor):
    address = reverse("certs:renewed_paper", args=[claims.certificate.number])
    assert as_auditor.get(address).status_code == 404
    content = pdf_bytes("renewed")
    file = keep_made(content=content, name="a.pdf", media_type="application/pdf", at=MOMENT)
    PaperRenewal.objects.create(
        certificate=claims.certificate,
        file=file,
        good_until=MOMENT,
        made_at=MOMENT,
        made_by=given_person(),
    )
    assert as_auditor.get(address).content == content
    assert address in page(as_auditor, claims.certificate)


def test_the_tag_page_says_that_the_keys_are_for_evaluation(claims, client):
    told = client.get(reverse("certs:tag", args=[claims.tag.code])).content.decode()
    assert "Signed with evaluation keys, which vouch for nobody" in told


def test_the_api_hands_the_credential_out(claims, as_auditor):
    address = f"/api/certificates/{claims.certificate.number}/"
    answer = as_auditor.get(f"{address}credential/")
    assert answer["Content-Type"] == "application/vc+json"
    assert answer.content.decode() == claims.certificate.credential
    told = as_auditor.get(address).json()
    assert told["credential_sha256"] == claims.certificate.credential_sha256
    assert told["is_evaluation"] is True
    assert (
        as_auditor.get(f"/api/certificates/{claims.draft.draft_code}/credential/").status_code
        == 404
    )
