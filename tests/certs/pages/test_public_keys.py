"""The public keys as strangers fetch them.

Shapes: W3C DID 1.0 with Controlled Identifiers 1.0 (Multikey); RFC 7517, RFC 7518 6.2 (EC),
RFC 8037 2 (OKP), with the algorithm name of RFC 9864.
"""

from base64 import b64encode, urlsafe_b64decode
from datetime import timedelta

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric.ec import SECP256R1, generate_private_key
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from certs.queries.public_keys import credential_keys
from certs.rules.multibase import from_multibase
from inventory.models import SigningKey
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.keyring import make_key
from tests.factories import MOMENT, given_keys, given_person

pytestmark = pytest.mark.django_db
ED = Ed25519PrivateKey.generate().public_key().public_bytes_raw()
EC = generate_private_key(SECP256R1()).public_key()
DER = EC.public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)


def given_key(purpose, name, **ends):
    return SigningKey.objects.create(
        purpose=purpose,
        name=name,
        public_key=b64encode(DER if purpose == "paper" else ED).decode(),
        certificate_pem="PEM" if purpose == "paper" else "",
        is_evaluation=True,
        added_at=MOMENT,
        added_by=given_person(Role.ADMINISTRATOR),
        **ends,
    )


@pytest.fixture
def origin(settings):
    settings.PUBLIC_ORIGIN = "https://rope.example"
    return settings.PUBLIC_ORIGIN


def test_the_identity_document_shows_each_credential_key(client, origin):
    given_key("credential", "one")
    given_key("log", "other")
    answer = client.get("/.well-known/did.json")
    assert answer["Content-Type"] == "application/did+json"
    document = answer.json()
    assert document["id"] == "did:web:rope.example"
    (method,) = document["verificationMethod"]
    assert method["id"] == "did:web:rope.example#one"
    assert method["controller"] == document["id"]
    assert from_multibase(method["publicKeyMultibase"]) == b"\xed\x01" + ED
    assert document["assertionMethod"] == [method["id"]]
    assert credential_keys(origin) == {method["id"]: ED}


@pytest.mark.usefixtures("origin")
def test_an_ended_key_stays_and_says_when(client):
    given_key("credential", "old", retired_at=MOMENT)
    given_key("credential", "lost", revoked_at=MOMENT + timedelta(days=1), revoke_reason="stolen")
    old, lost = client.get("/.well-known/did.json").json()["verificationMethod"]
    assert old["expires"] == "2026-03-02T08:00:00Z"
    assert "revoked" not in old
    assert lost["revoked"] == "2026-03-03T08:00:00Z"


def unpadded(text):
    return urlsafe_b64decode(text + "=" * (-len(text) % 4))


def test_the_key_set_shows_every_key(client):
    given_key("log", "of the log")
    given_key("paper", "of papers", retired_at=MOMENT)
    answer = client.get("/.well-known/jwks.json")
    assert answer["Content-Type"] == "application/jwk-set+json"
    log, paper = answer.json()["keys"]
    assert (log["kty"], log["crv"], log["alg"]) == ("OKP", "Ed25519", "Ed25519")
    assert unpadded(log["x"]) == ED
    assert log["rope_evaluation"] is True
    assert (paper["kty"], paper["crv"], paper["alg"]) == ("EC", "P-256", "ES256")
    numbers = EC.public_numbers()
    assert int.from_bytes(unpadded(paper["x"])) == numbers.x
    assert int.from_bytes(unpadded(paper["y"])) == numbers.y
    assert paper["rope_expires"] == "2026-03-02T08:00:00Z"


def test_before_the_first_key_both_are_empty(client):
    assert client.get("/.well-known/jwks.json").json() == {"keys": []}
    assert client.get("/.well-known/did.json").json()["verificationMethod"] == []


def test_the_roots_of_papers_are_handed_out_as_a_reader_takes_them(client):
    """PEM with explanatory text (RFC 7468, 5.2), read by a library that is not ours."""
    given_keys()
    by = given_person(Role.ADMINISTRATOR)
    make_key(Purpose.PAPER, is_evaluation=True, by=by, at=MOMENT)
    answer = client.get("/.well-known/paper-roots.pem")
    assert answer["Content-Type"] == "application/x-pem-file"
    assert "paper-roots.pem" in answer["Content-Disposition"]
    (root,) = x509.load_pem_x509_certificates(answer.content)
    for key in SigningKey.objects.filter(purpose=Purpose.PAPER):
        leaf = x509.load_pem_x509_certificates(key.certificate_pem.encode())[0]
        leaf.verify_directly_issued_by(root)
    told = answer.content.decode()
    assert root.fingerprint(SHA256()).hex(":").upper() in told
    assert "vouches for nobody" in told
    assert "PRIVATE" not in told


def test_before_the_first_key_there_is_no_root(client):
    assert client.get("/.well-known/paper-roots.pem").status_code == 404


def test_the_page_that_checks_papers_leads_to_the_roots(client):
    assert 'href="/.well-known/paper-roots.pem"' in client.get("/check/").content.decode()


@pytest.mark.parametrize(
    "address",
    ["/.well-known/did.json", "/.well-known/jwks.json", "/.well-known/paper-roots.pem"],
)
def test_they_are_only_read(client, address):
    assert client.post(address).status_code == 405
