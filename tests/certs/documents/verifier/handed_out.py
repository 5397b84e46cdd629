"""A paper as a house hands it out, with data, proof and public keys, made for a test.

Made with the program's own rules, so that the verifier, which shares no line with them, is held
against them.
"""

import hashlib
from base64 import b64encode, urlsafe_b64encode
from datetime import UTC, datetime
from functools import cache

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from weasyprint import HTML, Attachment

from certs.documents.pdf_signature import sign_pdf
from certs.rules.credential import sign_credential
from certs.rules.multibase import ed25519_multikey
from inventory.documents.house_certificate import chain_pem, make_leaf, make_root
from inventory.rules.canonical import canonical_text
from inventory.rules.merkle import inclusion_path, leaf_hash, root
from inventory.rules.signed_note import NoteKey, sign_note  # noqa: F401 -- for its users
from inventory.rules.tlog_proof import LogProof

AT = datetime(2026, 3, 2, 8, tzinfo=UTC)
DID = "did:web:rope.example"
ORIGIN = "rope.example/log"
NUMBER = "AT-2026-00001"
RECORD = canonical_text({"format": "test", "number": NUMBER}).encode()


class Key:
    """A signer of one purpose, made anew from a seed."""

    def __init__(self, purpose, seed):
        self.purpose = purpose
        if purpose == "paper":
            self.private = ec.derive_private_key(seed, ec.SECP256R1())
            self.root = make_root(
                ec.derive_private_key(seed + 1, ec.SECP256R1()),
                house="House", is_evaluation=False, at=AT,
            )  # fmt: skip
            leaf = make_leaf(
                self.private.public_key(), root=self.root, house="House", is_evaluation=False, at=AT
            )
            self.certificate_pem = chain_pem(leaf, self.root.certificate)
        else:
            self.private = Ed25519PrivateKey.from_private_bytes(seed.to_bytes(32, "big"))
        self.name = f"{purpose}-{seed}"

    @property
    def public_key_bytes(self):
        return self.private.public_key().public_bytes_raw()

    def sign(self, data):
        if self.purpose == "paper":
            return self.private.sign(data, ec.ECDSA(hashes.SHA256()))
        return self.private.sign(data)

    def jwk(self, **ends):
        told = {"kid": self.name, "use": "sig", "rope_purpose": self.purpose, **ends}
        if self.purpose != "paper":
            x = in_base64url(self.public_key_bytes)
            return {**told, "kty": "OKP", "crv": "Ed25519", "x": x}
        point = self.private.public_key().public_bytes(
            Encoding.X962, PublicFormat.UncompressedPoint
        )
        x, y = in_base64url(point[1:33]), in_base64url(point[33:])
        return {**told, "kty": "EC", "crv": "P-256", "x": x, "y": y}


def in_base64url(data):
    return urlsafe_b64encode(data).rstrip(b"=").decode()


LOG, CREDENTIAL, PAPER = Key("log", 11), Key("credential", 12), Key("paper", 13)
OTHER_PAPER = Key("paper", 23)


@cache
def unsigned_pdf(*enclosed):
    attachments = [
        Attachment(string=data, name=name, created=AT, modified=AT, relationship="Data")
        for name, data in enclosed
    ]
    page = '<html lang="en"><title>Paper</title><p>Minimum breaking force 63.0 kN</p></html>'
    return HTML(string=page).write_pdf(
        pdf_variant="pdf/a-3u", pdf_identifier=b"1" * 16, attachments=attachments
    )


def credential(number=NUMBER, key=CREDENTIAL):
    document = {
        "@context": ["https://www.w3.org/ns/credentials/v2"],
        "issuer": DID,
        "credentialSubject": {
            "certificate": {"number": number},
            "record": {"format": "test", "sha256": hashlib.sha256(RECORD).hexdigest()},
        },
    }
    signed = sign_credential(
        document,
        verification_method=f"{DID}#{key.name}",
        created="2026-03-02T08:00:00Z",
        sign=key.sign,
    )
    return canonical_text(signed).encode()


def paper(data=None, key=PAPER, record=RECORD):
    data = credential() if data is None else data
    pdf = unsigned_pdf(("certificate.json", record), ("credential.json", data))
    return sign_pdf(pdf, signer=key, house="House", at=AT)


def without_data(key=PAPER):
    return sign_pdf(unsigned_pdf(), signer=key, house="House", at=AT)


def entry(pdf, data, *, number=5, at="2026-03-02T08:00:00.000+00:00"):
    detail = {
        "credential_sha256": hashlib.sha256(data).hexdigest(),
        "pdf_sha256": hashlib.sha256(pdf).hexdigest(),
    }
    told = {"act": "issue_certificate", "at": at, "by": "0" * 64, "detail": detail}
    return canonical_text({**told, "number": number, "subject": NUMBER}).encode()


def leaves_with(entry_text, *, size=9):
    others = [leaf_hash(f"entry {number}".encode()) for number in range(size)]
    return [*others[:5], leaf_hash(entry_text), *others[6:]]


def checkpoint(leaves, key=LOG):
    text = f"{ORIGIN}\n{len(leaves)}\n{b64encode(root(leaves)).decode()}\n"
    return sign_note(text, name=ORIGIN, signers=[key])


def proof(entry_text, *, key=LOG):
    leaves = leaves_with(entry_text)
    path = tuple(inclusion_path(5, leaves))
    return LogProof(5, path, checkpoint(leaves, key), entry_text).text.encode()


def jwks(**ends_by_purpose):
    keys = [key.jwk(**ends_by_purpose.get(key.purpose, {})) for key in (LOG, CREDENTIAL, PAPER)]
    return canonical_text({"keys": keys}).encode()


def did_document():
    address = f"{DID}#{CREDENTIAL.name}"
    method = {
        "id": address,
        "type": "Multikey",
        "controller": DID,
        "publicKeyMultibase": ed25519_multikey(CREDENTIAL.public_key_bytes),
    }
    return canonical_text(
        {"id": DID, "verificationMethod": [method], "assertionMethod": [address]}
    ).encode()


@cache
def issued():
    """Give the files of one good paper, by their names."""
    data = credential()
    pdf = paper(data)
    return {
        "paper.pdf": pdf,
        "credential.json": data,
        "paper.tlog-proof": proof(entry(pdf, data)),
        "jwks.json": jwks(),
    }
