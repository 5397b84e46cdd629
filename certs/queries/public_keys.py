"""Tells strangers the public keys of the house: a DID document, a JWK set, and roots of papers.

A retired key stays in both, for what it signed stays valid; a revoked one stays too, and says so.
"""

from base64 import b64decode, urlsafe_b64encode
from datetime import UTC, datetime
from typing import Any

from cryptography import x509
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric.ec import EllipticCurvePublicKey
from cryptography.hazmat.primitives.serialization import Encoding, load_der_public_key

from certs.rules.did_web import did_of, key_address
from certs.rules.multibase import ed25519_multikey
from inventory.models import SigningKey

Purpose = SigningKey.Purpose


def credential_keys(origin: str) -> dict[str, bytes]:
    """Every credential key that ever was, by its address: 32 bytes each."""
    did = did_of(origin)
    return {
        key_address(did, key.name): b64decode(key.public_key) for key in _keys(Purpose.CREDENTIAL)
    }


def did_document(origin: str) -> dict[str, Any]:
    """Return the DID document (W3C DID 1.0, Controlled Identifiers 1.0) of the house."""
    did = did_of(origin)
    methods = [_method(did, key) for key in _keys(Purpose.CREDENTIAL)]
    return {
        "@context": ["https://www.w3.org/ns/did/v1", "https://w3id.org/security/multikey/v1"],
        "id": did,
        "verificationMethod": methods,
        "assertionMethod": [method["id"] for method in methods],
    }


def jwk_set() -> dict[str, Any]:
    """Return all public keys as a JWK set (RFC 7517; RFC 8037 and 9864 for Ed25519)."""
    return {"keys": [_jwk(key) for key in _keys(*Purpose)]}


def paper_roots() -> str:
    """Return each root that the certificates of paper keys stand under, as PEM, the newest first.

    Above each stands in words whose it is and its fingerprint (explanatory text: RFC 7468, 5.2).
    """
    told: dict[str, str] = {}
    for key in reversed(_keys(Purpose.PAPER)):
        root = x509.load_pem_x509_certificates(key.certificate_pem.encode())[-1]
        pem = root.public_bytes(Encoding.PEM).decode()
        vouches = "For evaluation: it vouches for nobody.\n" if key.is_evaluation else ""
        told.setdefault(
            pem,
            f"Subject: {root.subject.rfc4514_string()}\n"
            f"SHA-256: {root.fingerprint(hashes.SHA256()).hex(':').upper()}\n{vouches}{pem}",
        )
    return "\n".join(told.values())


def _keys(*purposes: SigningKey.Purpose) -> list[SigningKey]:
    return list(SigningKey.objects.filter(purpose__in=purposes).order_by("id"))


def _method(did: str, key: SigningKey) -> dict[str, Any]:
    return {
        "id": key_address(did, key.name),
        "type": "Multikey",
        "controller": did,
        "publicKeyMultibase": ed25519_multikey(b64decode(key.public_key)),
        **_ends(key),
    }


def _ends(key: SigningKey) -> dict[str, str]:
    # Controlled Identifiers 1.0, 2.2: `expires` ends a key in peace, `revoked` is for a loss.
    ends = {"expires": key.retired_at, "revoked": key.revoked_at}
    return {name: _moment(at) for name, at in ends.items() if at is not None}


def _jwk(key: SigningKey) -> dict[str, Any]:
    raw = b64decode(key.public_key)
    told: dict[str, Any] = {"kid": key.name, "use": "sig", "rope_purpose": key.purpose}
    if key.is_evaluation:
        told["rope_evaluation"] = True
    ends = {f"rope_{name}": at for name, at in _ends(key).items()}
    if key.purpose != Purpose.PAPER:
        return told | {"kty": "OKP", "crv": "Ed25519", "alg": "Ed25519", "x": _base64(raw)} | ends
    public = load_der_public_key(raw)
    if not isinstance(public, EllipticCurvePublicKey):
        message = f"key {key.name} is not on an elliptic curve"
        raise TypeError(message)
    point = public.public_numbers()
    x, y = (_base64(number.to_bytes(32)) for number in (point.x, point.y))
    return told | {"kty": "EC", "crv": "P-256", "alg": "ES256", "x": x, "y": y} | ends


def _base64(data: bytes) -> str:
    return urlsafe_b64encode(data).rstrip(b"=").decode()


def _moment(at: datetime) -> str:
    return at.astimezone(UTC).isoformat(timespec="seconds").replace("+00:00", "Z")
