"""What the house signs with: purposes of keys, their names, and what any signer must offer.

Where a private key lies, in a file or in a token, is decided by the keyring.
"""

import hashlib
from enum import StrEnum
from typing import Protocol

_NAME_DIGITS = 16


class Purpose(StrEnum):
    """What a key is for; no key serves two purposes."""

    LOG = "log"
    CREDENTIAL = "credential"
    PAPER = "paper"

    @property
    def algorithm(self) -> str:
        """Name the algorithm as RFC 9864 and RFC 7518 do: PDF readers know no Ed25519."""
        return "ES256" if self is Purpose.PAPER else "Ed25519"


class Signer(Protocol):
    """A private key that may be used and not seen: of a file, a token or a service."""

    @property
    def purpose(self) -> Purpose:
        """Tell what it signs."""

    @property
    def name(self) -> str:
        """Name the key, as its public half is on record."""

    @property
    def algorithm(self) -> str:
        """Name the algorithm: "Ed25519" or "ES256"."""

    @property
    def public_key_bytes(self) -> bytes:
        """Give the 32 bytes of Ed25519, or SubjectPublicKeyInfo in DER for P-256."""

    @property
    def certificate_pem(self) -> str:
        """Give the chain of a paper key, its own certificate first; empty for the others."""

    @property
    def is_evaluation(self) -> bool:
        """Tell whether it vouches for nobody."""

    def sign(self, data: bytes) -> bytes:
        """Sign: 64 bytes for Ed25519; for ES256 the DER signature over SHA-256 of the data."""


def key_name(purpose: Purpose, public_key_bytes: bytes) -> str:
    """Name a key after its purpose and the first 16 digits of SHA-256 of its public half."""
    return f"{purpose.value}-{_digits(public_key_bytes)}"


def root_name(public_key_bytes: bytes) -> str:
    """Name the key of a root, which signs the certificates of paper keys and nothing else."""
    return f"root-{_digits(public_key_bytes)}"


def _digits(public_key_bytes: bytes) -> str:
    return hashlib.sha256(public_key_bytes).hexdigest()[:_NAME_DIGITS]
