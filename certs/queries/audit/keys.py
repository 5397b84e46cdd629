"""Looks that whatever was signed can be checked: every key that a paper names is on record, whole.

Whether a signature holds is judged where it stands: of checkpoints in `checkpoints`, of
credentials in `certificates`; the PDF with its own signature is bound by its hash.
"""

from base64 import b64decode
from collections.abc import Iterator

from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from cryptography.x509 import load_pem_x509_certificates

from certs.rules.disagreement import Disagreement, What
from inventory.models import SigningKey


def keys_whole() -> Iterator[Disagreement]:
    """Compare each paper key with the X.509 certificate that speaks for it."""
    for key in SigningKey.objects.filter(purpose=SigningKey.Purpose.PAPER).order_by("pk"):
        certified = _certified(key.certificate_pem)
        if certified != _decoded(key.public_key):
            expected = "the public key that its certificate names"
            yield Disagreement(What.KEY, f"key {key.name}", expected, "another one")


def credential_keys() -> dict[str, bytes]:
    """Return the public keys of credentials by name, revoked ones too; broken ones are left out."""
    rows = SigningKey.objects.filter(purpose=SigningKey.Purpose.CREDENTIAL)
    decoded = {key.name: _decoded(key.public_key) for key in rows.order_by("pk")}
    return {name: raw for name, raw in decoded.items() if raw}


def _certified(pem: str) -> bytes | None:
    try:
        leaf = load_pem_x509_certificates(pem.encode())[0]
    except (IndexError, ValueError):
        return None
    return leaf.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)


def _decoded(text: str) -> bytes:
    try:
        return b64decode(text, validate=True)
    except ValueError:
        return b""
