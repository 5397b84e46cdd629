"""Tells whether an Ed25519 signature holds (RFC 8032); `cryptography` does the arithmetic.

Who may sign what is decided elsewhere. The answer is yes or no, never an error: a key or a
signature that is none at all holds for nothing.
"""

from typing import Final

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

PUBLIC_KEY_BYTES: Final = 32
SIGNATURE_BYTES: Final = 64


def is_signed(*, public_key: bytes, signature: bytes, data: bytes) -> bool:
    """Tell whether the holder of the 32 bytes `public_key` signed `data`."""
    if len(public_key) != PUBLIC_KEY_BYTES or len(signature) != SIGNATURE_BYTES:
        return False
    try:
        Ed25519PublicKey.from_public_bytes(public_key).verify(signature, data)
    except (InvalidSignature, ValueError):
        return False
    return True
