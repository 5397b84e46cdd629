"""Signs and checks a certificate for machines: a Data Integrity proof, suite eddsa-jcs-2022.

The steps are those of the W3C Recommendation "Data Integrity EdDSA Cryptosuites v1.0"
(15 May 2025), 3.3: canonical JSON (RFC 8785), SHA-256 of proof options and document, Ed25519.
What the document says is composed elsewhere. A check tells what fails and never raises.
"""

import hashlib
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from certs.rules.multibase import from_multibase, to_multibase
from inventory.rules.canonical import canonical_bytes

Document = dict[str, Any]

SUITE: Final = "eddsa-jcs-2022"
PROOF: Final = "DataIntegrityProof"
PURPOSE: Final = "assertionMethod"


def sign_credential(
    document: Mapping[str, Any],
    *,
    verification_method: str,
    created: str,
    sign: Callable[[bytes], bytes],
) -> Document:
    """Return the document with its proof.

    Args:
        document: a credential without proof, JSON without floats.
        verification_method: the address of the public key, ISSUER#KEY.
        created: the moment of signing, such as "2026-03-02T08:00:00Z".
        sign: gives the Ed25519 signature of the bytes it is handed.
    """
    options = {
        "type": PROOF,
        "cryptosuite": SUITE,
        "created": created,
        "verificationMethod": verification_method,
        "proofPurpose": PURPOSE,
        "@context": document["@context"],
    }
    value = to_multibase(sign(signing_input(document, options)))
    return {**document, "proof": {**options, "proofValue": value}}


def signing_input(document: Mapping[str, Any], options: Mapping[str, Any]) -> bytes:
    """Return the 64 bytes that are signed: hash of the proof options, hash of the document."""
    return _hash(options) + _hash(document)


def fault_of(document: Mapping[str, Any], *, keys: Mapping[str, bytes]) -> str:
    """Say in one sentence why the proof does not hold; an empty text when it holds.

    Args:
        document: a credential with its proof, as it came.
        keys: the issuer's public keys (32 bytes) by their address, ISSUER#KEY.
    """
    proof = document.get("proof")
    if not isinstance(proof, Mapping):
        return "It carries no proof."
    wanted = {"type": PROOF, "cryptosuite": SUITE, "proofPurpose": PURPOSE}
    for name, value in wanted.items():
        if proof.get(name) != value:
            return f"Its proof has {name} {proof.get(name)!r} instead of {value!r}."
    address = proof.get("verificationMethod")
    if not isinstance(address, str) or address.partition("#")[0] != document.get("issuer"):
        return "The key that its proof names does not belong to its issuer."
    if address not in keys:
        return f"The key {address} is not known."
    if not is_signed_by(document, keys[address]):
        return "The signature does not fit what it says: it was changed after it was signed."
    return ""


def is_signed_by(document: Mapping[str, Any], public_key: bytes) -> bool:
    """Tell whether the proof of a document is this key's, by the steps of 3.3.2 of the source."""
    try:
        proof = dict(document["proof"])
        signature = from_multibase(proof.pop("proofValue"))
        bare = {name: value for name, value in document.items() if name != "proof"}
        if "@context" in proof:
            if not _begins_with(bare.get("@context"), proof["@context"]):
                return False
            bare["@context"] = proof["@context"]
        key = Ed25519PublicKey.from_public_bytes(public_key)
        key.verify(signature, signing_input(bare, proof))
    except (InvalidSignature, AttributeError, KeyError, RecursionError, TypeError, ValueError):
        return False
    return True


def _begins_with(whole: object, start: object) -> bool:
    return _listed(whole)[: len(_listed(start))] == _listed(start)


def _listed(value: object) -> list[object]:
    return list(value) if isinstance(value, Sequence) and not isinstance(value, str) else [value]


def _hash(value: Mapping[str, Any]) -> bytes:
    return hashlib.sha256(canonical_bytes(value)).digest()
