"""Makes key pairs: the private halves into files, what goes on record of them handed back.

When one is made, and for what, is decided by the keyring.
"""

from dataclasses import dataclass
from datetime import datetime

from cryptography import x509
from cryptography.hazmat.primitives import serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePrivateKey
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from django.conf import settings

from inventory.documents.house_certificate import HouseRoot, chain_pem, make_leaf, make_root
from inventory.models import SigningKey
from inventory.rules.signing import Purpose, Signer, key_name, root_name
from inventory.services.key_files import (
    NoKey,
    check_passphrase,
    has_key,
    public_bytes,
    read_key,
    write_key,
)


@dataclass(frozen=True, slots=True)
class NewKey:
    """What goes on record of a key."""

    name: str
    public_key_bytes: bytes
    certificate_pem: str
    is_evaluation: bool


def key_of_token(token: Signer, *, purpose: Purpose) -> NewKey:
    """Describe the key that a token or a service holds; nothing is written.

    Raises:
        NoKey: it signs for another purpose, or a paper key brings no certificate.
    """
    if token.purpose is not purpose or bool(token.certificate_pem) != (purpose is Purpose.PAPER):
        message = (
            f"What SIGNERS names for {purpose.value} must sign for it"
            " and bring the chain of certificates of a paper key, and of no other."
        )
        raise NoKey(message)
    return NewKey(token.name, token.public_key_bytes, token.certificate_pem, token.is_evaluation)


def key_in_file(purpose: Purpose, *, is_evaluation: bool, at: datetime) -> NewKey:
    """Make a key pair and write its private half; a paper key gets its certificate.

    Raises:
        NoKey: no pass phrase for it, or its file cannot be written.
    """
    if not is_evaluation:
        check_passphrase()
    key: Ed25519PrivateKey | EllipticCurvePrivateKey
    if purpose is not Purpose.PAPER:
        key, chain = Ed25519PrivateKey.generate(), ""
    else:
        key = ec.generate_private_key(ec.SECP256R1())
        root = _root(is_evaluation=is_evaluation, at=at)
        leaf = make_leaf(
            key.public_key(),
            root=root,
            house=settings.ISSUER_NAME,
            is_evaluation=is_evaluation,
            at=at,
        )
        chain = chain_pem(leaf, root.certificate)
    public = public_bytes(key)
    name = key_name(purpose, public)
    write_key(name, key, is_evaluation=is_evaluation)
    return NewKey(name, public, chain, is_evaluation)


def root_of(row: SigningKey) -> HouseRoot:
    """Open the root that signed the certificate of a paper key.

    Raises:
        NoKey: its key file is missing or does not open, as that of a company's own root will.
    """
    certificate = x509.load_pem_x509_certificates(row.certificate_pem.encode())[-1]
    key = read_key(root_name(_spki(certificate)), is_evaluation=row.is_evaluation)
    if not isinstance(key, EllipticCurvePrivateKey):
        message = "The key file of the root holds a key of another kind than this program makes."
        raise NoKey(message)
    return HouseRoot(certificate, key)


def _root(*, is_evaluation: bool, at: datetime) -> HouseRoot:
    """Take the house's root, so that whoever trusts it trusts the next key too; or make one."""
    papers = SigningKey.objects.filter(purpose=Purpose.PAPER.value, is_evaluation=is_evaluation)
    last = papers.order_by("-added_at", "-id").first()
    if last is not None:
        certificate = x509.load_pem_x509_certificates(last.certificate_pem.encode())[-1]
        if has_key(root_name(_spki(certificate))):
            return root_of(last)
    key = ec.generate_private_key(ec.SECP256R1())
    root = make_root(key, house=settings.ISSUER_NAME, is_evaluation=is_evaluation, at=at)
    write_key(root_name(public_bytes(key)), key, is_evaluation=is_evaluation)
    return root


def _spki(certificate: x509.Certificate) -> bytes:
    return certificate.public_key().public_bytes(
        serialization.Encoding.DER, serialization.PublicFormat.SubjectPublicKeyInfo
    )
