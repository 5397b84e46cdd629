"""Checks the proof of a credential: W3C Data Integrity, cryptosuite eddsa-jcs-2022.

The steps are those of "Data Integrity EdDSA Cryptosuites v1.0" (W3C Recommendation, 15 May 2025),
3.3. Which keys the issuer has is read from his DID document.
"""

import hashlib
from collections.abc import Mapping
from typing import Any, NamedTuple

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.ed25519 import KEY_BYTES, verify_ed25519
from certs.documents.verifier.json_form import canonical_json

_BASE58 = "123456789ABCDEFGHJKLMNPQRSTUVWXYZabcdefghijkmnopqrstuvwxyz"
_ED25519_KEY = b"\xed\x01"
_EXPECTED = (
    ("type", "DataIntegrityProof"),
    ("cryptosuite", "eddsa-jcs-2022"),
    ("proofPurpose", "assertionMethod"),
)


class CredentialKey(NamedTuple):
    """A public key of an issuer; `revoked` and `expires` are moments as published, or empty."""

    address: str
    public: bytes
    expires: str
    revoked: str


def read_credential_keys(document: Mapping[str, Any]) -> list[CredentialKey]:
    """Read the keys by which the issuer of a DID document asserts. Raises `NotReadableError`."""
    asserting = document.get("assertionMethod")
    methods = document.get("verificationMethod")
    if not isinstance(asserting, list) or not isinstance(methods, list):
        raise NotReadableError("it names no keys")
    keys = []
    for method in methods:
        if not isinstance(method, dict) or method.get("id") not in asserting:
            continue
        if method.get("controller") != document.get("id"):
            continue
        public = from_base58(str(method.get("publicKeyMultibase")))
        if public[:2] != _ED25519_KEY or len(public) != len(_ED25519_KEY) + KEY_BYTES:
            continue
        dates = (str(method.get(name) or "") for name in ("expires", "revoked"))
        keys.append(CredentialKey(str(method["id"]), public[2:], *dates))
    return keys


def key_named_in(document: Mapping[str, Any]) -> str:
    """Give the address of the key that the proof names. Raises `NotReadableError`."""
    proof = document.get("proof")
    if not isinstance(proof, dict):
        raise NotReadableError("it carries no proof")
    for name, value in _EXPECTED:
        if proof.get(name) != value:
            raise NotReadableError(f"its proof has {name} {proof.get(name)!r}, not {value!r}")
    address = str(proof.get("verificationMethod"))
    issuer = document.get("issuer")
    if isinstance(issuer, dict):
        issuer = issuer.get("id")
    if address.partition("#")[0] != issuer:
        raise NotReadableError("the key that its proof names is not its issuer’s")
    return address


def is_proved_by(document: Mapping[str, Any], public: bytes) -> bool:
    """Tell whether the proof of a credential is by this key (32 bytes), whatever it calls it."""
    try:
        options = dict(document["proof"])
        signature = from_base58(options.pop("proofValue"))
        bare = {name: value for name, value in document.items() if name != "proof"}
        if "@context" in options:
            wanted, there = _as_list(options["@context"]), _as_list(bare.get("@context"))
            if there[: len(wanted)] != wanted:
                return False
            bare["@context"] = options["@context"]
        hashes = [hashlib.sha256(canonical_json(part)).digest() for part in (options, bare)]
    except (NotReadableError, KeyError, TypeError, ValueError, AttributeError):
        return False
    return verify_ed25519(public_key=public, message=b"".join(hashes), signature=signature)


def from_base58(text: str) -> bytes:
    """Read multibase base58-btc ("z…"). Raises `NotReadableError`."""
    digits = text[1:]
    if text[:1] != "z" or any(digit not in _BASE58 for digit in digits):
        raise NotReadableError("a key or signature in it is not written in base 58")
    value = 0
    for digit in digits:
        value = value * 58 + _BASE58.index(digit)
    zeros = len(digits) - len(digits.lstrip("1"))
    return bytes(zeros) + value.to_bytes((value.bit_length() + 7) // 8, "big")


def _as_list(value: object) -> list[Any]:
    return list(value) if isinstance(value, (list, tuple)) else [value]
