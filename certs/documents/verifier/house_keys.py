"""Gathers the public keys of the house: from its JWK set, its DID document, certificates in PEM.

Also decides whether a key could still sign at a moment. Who vouches that the keys are the house's
is for the reader to know: he gets them, or their names, by another way than the papers.
"""

import base64
import binascii
import re
from collections.abc import Mapping
from typing import Any, NamedTuple

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.cms import X509, read_certificate
from certs.documents.verifier.credential_proof import read_credential_keys
from certs.documents.verifier.log_note import read_log_key

_PEM = re.compile(rb"-----BEGIN CERTIFICATE-----([A-Za-z0-9+/=\s]+)-----END CERTIFICATE-----")
_TO_THE_SECOND = 19


class HouseKey(NamedTuple):
    """A public key: what for ("log", "credential", "paper"), its name, its bytes, its end."""

    purpose: str
    name: str
    public: bytes
    expires: str
    revoked: str
    is_evaluation: bool = False


class HouseKeys(NamedTuple):
    """All keys that were handed in, and certificates that vouch for paper keys."""

    keys: tuple[HouseKey, ...]
    roots: tuple[X509, ...]

    def of(self, purpose: str) -> list[HouseKey]:
        """Give the keys of one purpose."""
        return [key for key in self.keys if key.purpose == purpose]

    def log_keys_that_vouch(self) -> list[bytes]:
        """Give the log's keys that were not revoked.

        Not those for evaluation, where the house has one of its own: such a key signs the first
        checkpoint after the change as well.
        """
        keys = self.of("log")
        has_own = any(not key.is_evaluation for key in keys)
        return [k.public for k in keys if not k.revoked and not (has_own and k.is_evaluation)]


NO_KEYS = HouseKeys((), ())


def joined_keys(one: HouseKeys, other: HouseKeys) -> HouseKeys:
    """Put the keys of two sources together. A revocation that either tells counts for all.

    A source that leaves the revocation out must not bring a revoked key back.
    """
    keys = [*one.keys, *(key for key in other.keys if key not in one.keys)]
    revoked = {(key.purpose, key.public): key.revoked for key in keys if key.revoked}
    told = (
        key._replace(revoked=key.revoked or revoked.get((key.purpose, key.public), ""))
        for key in keys
    )
    return HouseKeys(tuple(told), (*one.roots, *other.roots))


def keys_of_json(document: Mapping[str, Any]) -> HouseKeys:
    """Read a JWK set or a DID document. Raises `NotReadableError` for anything else."""
    if isinstance(document.get("keys"), list):
        found = [_jwk(key) for key in document["keys"] if isinstance(key, dict)]
        return HouseKeys(tuple(key for key in found if key is not None), ())
    told = read_credential_keys(document)
    keys = (HouseKey("credential", key.address, key.public, *key[2:]) for key in told)
    return HouseKeys(tuple(keys), ())


def keys_of_text(data: bytes) -> HouseKeys:
    """Read certificates in PEM, or keys of a journal a line. Raises `NotReadableError`."""
    certificates = [_pem(match[1]) for match in _PEM.finditer(data)]
    if certificates:
        # A leaf goes first; only who vouches for others is a root, or a leaf handed in alone.
        return HouseKeys((), tuple(certificates[1:] or certificates))
    lines = [line for line in data.decode("utf-8", "replace").splitlines() if line.strip()]
    keys = [read_log_key(line) for line in lines]
    if not keys:
        raise NotReadableError("it holds no key")
    return HouseKeys(tuple(HouseKey("log", key.name, key.public, "", "") for key in keys), ())


def fault_of_time(key: HouseKey, *, journalled_at: str) -> str:
    """Say why the key could not sign this; an empty text when it could.

    Args:
        journalled_at: when the journal says that it was issued, proved; empty where it is not.
    """
    if key.revoked and not _is_before(journalled_at, key.revoked):
        return (
            f"The key {key.name} was revoked on {key.revoked}, and the journal does not prove "
            "that this was signed before."
        )
    if key.expires and journalled_at and not _is_before(journalled_at, key.expires):
        return f"The key {key.name} was retired on {key.expires}, before this was issued."
    return ""


def _is_before(moment: str, end: str) -> bool:
    """Compare moments in UTC, to the second; a moment that is not known is before nothing."""
    return bool(moment) and moment[:_TO_THE_SECOND] <= end[:_TO_THE_SECOND]


def _jwk(key: Mapping[str, Any]) -> HouseKey | None:
    shape = (str(key.get("kty")), str(key.get("crv")))
    parts = {("OKP", "Ed25519"): ["x"], ("EC", "P-256"): ["x", "y"]}.get(shape)
    if parts is None:
        return None
    public = b"".join(_base64url(str(key.get(part))) for part in parts)
    texts = [str(key.get(n) or "") for n in ("rope_purpose", "kid", "rope_expires", "rope_revoked")]
    public = b"\4" + public if shape[0] == "EC" else public
    is_evaluation = key.get("rope_evaluation") is True
    return HouseKey(texts[0], texts[1], public, texts[2], texts[3], is_evaluation)


def _pem(text: bytes) -> X509:
    try:
        return read_certificate(base64.b64decode(b"".join(text.split()), validate=True))
    except (binascii.Error, ValueError) as problem:
        raise NotReadableError("it holds a certificate that cannot be read") from problem


def _base64url(text: str) -> bytes:
    try:
        return base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)
    except (binascii.Error, ValueError) as problem:
        raise NotReadableError("it holds a key that cannot be read") from problem
