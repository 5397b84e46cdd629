"""Checks Ed25519 signatures in plain Python, by RFC 8032 (5.1.3 and 5.1.7).

Only for checking: what is looked at is public, so that time and memory may depend on it.
"""

import hashlib
from functools import lru_cache
from typing import NamedTuple

_PRIME = 2**255 - 19
_ORDER = 2**252 + 27742317777372353535851937790883648493
_D = -121665 * pow(121666, _PRIME - 2, _PRIME) % _PRIME
_ROOT_OF_MINUS_ONE = pow(2, (_PRIME - 1) // 4, _PRIME)
KEY_BYTES = 32
SIGNATURE_BYTES = 64


class EdPoint(NamedTuple):
    """A point of the curve in extended coordinates (RFC 8032, 5.1.4)."""

    x: int
    y: int
    z: int
    t: int


_ZERO = EdPoint(0, 1, 1, 0)


# All proofs of a bundle bear one signature, of their checkpoint.
@lru_cache(maxsize=1024)
def verify_ed25519(*, public_key: bytes, message: bytes, signature: bytes) -> bool:
    """Tell whether the signature (64 bytes) of the message is by this key (32 bytes)."""
    if len(public_key) != KEY_BYTES or len(signature) != SIGNATURE_BYTES:
        return False
    key = _read_point(public_key)
    scalar = int.from_bytes(signature[KEY_BYTES:], "little")
    if key is None or scalar >= _ORDER:
        return False
    digest = hashlib.sha512(signature[:KEY_BYTES] + public_key + message).digest()
    challenge = int.from_bytes(digest, "little") % _ORDER
    # S B = R + k A, so that S B - k A must be written as R is.
    minus_key = EdPoint(_PRIME - key.x, key.y, key.z, _PRIME - key.t)
    reached = _add(_times(scalar, _ED_BASE), _times(challenge, minus_key))
    return _write_point(reached) == signature[:KEY_BYTES]


def _add(p: EdPoint, q: EdPoint) -> EdPoint:
    a = (p.y - p.x) * (q.y - q.x) % _PRIME
    b = (p.y + p.x) * (q.y + q.x) % _PRIME
    c = 2 * p.t * q.t * _D % _PRIME
    d = 2 * p.z * q.z % _PRIME
    e, f, g, h = b - a, d - c, d + c, b + a
    return EdPoint(e * f % _PRIME, g * h % _PRIME, f * g % _PRIME, e * h % _PRIME)


def _times(factor: int, point: EdPoint) -> EdPoint:
    product = _ZERO
    while factor:
        if factor & 1:
            product = _add(product, point)
        point, factor = _add(point, point), factor >> 1
    return product


def _read_point(data: bytes) -> EdPoint | None:
    """RFC 8032, 5.1.3: None where the bytes are no point, or one written too large."""
    y = int.from_bytes(data, "little")
    sign, y = y >> 255, y & ((1 << 255) - 1)
    if y >= _PRIME:
        return None
    u, v = (y * y - 1) % _PRIME, (_D * y * y + 1) % _PRIME
    x = u * pow(v, 3, _PRIME) * pow(u * pow(v, 7, _PRIME), (_PRIME - 5) // 8, _PRIME) % _PRIME
    if v * x * x % _PRIME == -u % _PRIME:
        x = x * _ROOT_OF_MINUS_ONE % _PRIME
    if v * x * x % _PRIME != u or (x == 0 and sign):
        return None
    if x & 1 != sign:
        x = _PRIME - x
    return EdPoint(x, y, 1, x * y % _PRIME)


def _write_point(point: EdPoint) -> bytes:
    inverse = pow(point.z, _PRIME - 2, _PRIME)
    x, y = point.x * inverse % _PRIME, point.y * inverse % _PRIME
    return (y | (x & 1) << 255).to_bytes(KEY_BYTES, "little")


# RFC 8032, 5.1: the base point has y = 4/5 and an even x.
_BASE_Y = 4 * pow(5, _PRIME - 2, _PRIME) % _PRIME
_ED_BASE = _read_point(_BASE_Y.to_bytes(KEY_BYTES, "little")) or _ZERO
