"""Makes the X.509 certificates of paper keys: a root of the house's own, and a leaf for each key.

Whoever trusts the root trusts the papers; that it is the house's own, a reader learns from the
house and from nobody else.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric.ec import (
    EllipticCurvePrivateKey,
    EllipticCurvePublicKey,
)
from cryptography.x509.oid import NameOID

# A paper is read for as long as the rope may hang and longer; common practice, no source. How
# long a key is used is another matter: it is retired long before its certificate ends.
ROOT_LASTS = timedelta(days=30 * 365)
LEAF_LASTS = timedelta(days=20 * 365)
# Clocks of readers differ.
_EARLIER = timedelta(hours=1)
# RFC 5280, appendix A.1: ub-common-name and ub-organization-name.
_LONGEST_NAME = 64


@dataclass(frozen=True, slots=True)
class HouseRoot:
    """The root: its certificate, and the key that signs leaves."""

    certificate: x509.Certificate
    key: EllipticCurvePrivateKey


def make_root(
    key: EllipticCurvePrivateKey, *, house: str, is_evaluation: bool, at: datetime
) -> HouseRoot:
    """Make the self-signed root of a house."""
    name = _name(house, "root of papers", is_evaluation=is_evaluation)
    certificate = (
        _begun(name, issuer=name, key=key.public_key(), at=at, lasts=ROOT_LASTS)
        .add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(is_root=True), critical=True)
        .sign(key, hashes.SHA256())
    )
    return HouseRoot(certificate, key)


def make_leaf(
    public_key: EllipticCurvePublicKey,
    *,
    root: HouseRoot,
    house: str,
    is_evaluation: bool,
    at: datetime,
) -> x509.Certificate:
    """Make the certificate of a paper key, signed by the root."""
    name = _name(house, "key of papers", is_evaluation=is_evaluation)
    authority = x509.AuthorityKeyIdentifier.from_issuer_public_key(root.key.public_key())
    return (
        _begun(name, issuer=root.certificate.subject, key=public_key, at=at, lasts=LEAF_LASTS)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(is_root=False), critical=True)
        .add_extension(authority, critical=False)
        .sign(root.key, hashes.SHA256())
    )


def chain_pem(*certificates: x509.Certificate) -> str:
    """Write certificates one below the other in PEM, the leaf first."""
    pem = serialization.Encoding.PEM
    return "".join(certificate.public_bytes(pem).decode() for certificate in certificates)


def _name(house: str, what: str, *, is_evaluation: bool) -> x509.Name:
    """Name who signs; an evaluation key says so wherever a reader shows its certificate."""
    common = f"EVALUATION, vouches for nobody: {what}" if is_evaluation else f"{house}: {what}"
    return x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, house[:_LONGEST_NAME]),
            x509.NameAttribute(NameOID.COMMON_NAME, common[-_LONGEST_NAME:]),
        ]
    )


def _begun(
    subject: x509.Name,
    *,
    issuer: x509.Name,
    key: EllipticCurvePublicKey,
    at: datetime,
    lasts: timedelta,
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key)
        .serial_number(x509.random_serial_number())
        .not_valid_before(at - _EARLIER)
        .not_valid_after(at + lasts)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key), critical=False)
    )


def _usage(*, is_root: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not is_root,
        content_commitment=not is_root,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=is_root,
        crl_sign=is_root,
        encipher_only=False,
        decipher_only=False,
    )
