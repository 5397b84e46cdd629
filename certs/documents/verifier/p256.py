"""Checks ECDSA signatures over P-256 with SHA-256 in plain Python (FIPS 186-5, 6.4; SEC 1, 4.1.4).

Only for checking: what is looked at is public, so that time and memory may depend on it.
"""

import hashlib

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.der import SEQUENCE, read_one_der

# The curve of NIST SP 800-186, 3.2.1.3: y² = x³ − 3x + b.
P256_PRIME = 2**256 - 2**224 + 2**192 + 2**96 - 1
P256_ORDER = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551
_B = 0x5AC635D8AA3A93E7B3EBBD55769886BC651D06B0CC53B0F63BCE3C3E27D2604B
_P256_BASE = (
    0x6B17D1F2E12C4247F8BCE6E563A440F277037D812DEB33A0F4A13945D898C296,
    0x4FE342E2FE1A7F9B8EE7EB4A7C0F9E162BCE33576B315ECECBB6406837BF51F5,
    1,
)
_UNCOMPRESSED = 4
POINT_BYTES = 65
_NOWHERE = (0, 1, 0)


def verify_p256(*, point: bytes, message: bytes, signature: bytes) -> bool:
    """Tell whether the signature (DER of r and s) of the message is by this key.

    `point` is the public key as an uncompressed point of 65 bytes (SEC 1, 2.3.3).
    """
    key = _read_key(point)
    r_and_s = _read_signature(signature)
    if key is None or r_and_s is None:
        return False
    r, s = r_and_s
    digest = int.from_bytes(hashlib.sha256(message).digest(), "big")
    inverse = pow(s, P256_ORDER - 2, P256_ORDER)
    reached = _sum_of(digest * inverse % P256_ORDER, r * inverse % P256_ORDER, key)
    if reached[2] == 0:
        return False
    x = reached[0] * pow(reached[2], 2 * (P256_PRIME - 2), P256_PRIME) % P256_PRIME
    return x % P256_ORDER == r


def _read_signature(data: bytes) -> tuple[int, int] | None:
    try:
        whole = read_one_der(data)
        if whole.tag != SEQUENCE:
            return None
        r, s = (part.number() for part in whole.parts())
    except (NotReadableError, ValueError):
        return None
    return (r, s) if 0 < r < P256_ORDER and 0 < s < P256_ORDER else None


def _read_key(point: bytes) -> tuple[int, int, int] | None:
    if len(point) != POINT_BYTES or point[0] != _UNCOMPRESSED:
        return None
    half = 1 + POINT_BYTES // 2
    x, y = int.from_bytes(point[1:half], "big"), int.from_bytes(point[half:], "big")
    if max(x, y) >= P256_PRIME or (y * y - x * x * x + 3 * x - _B) % P256_PRIME:
        return None
    return x, y, 1


def _sum_of(base_factor: int, key_factor: int, key: tuple[int, int, int]) -> tuple[int, int, int]:
    """Give base_factor · base point + key_factor · key, both factors read bit by bit together."""
    both = _plus(_P256_BASE, key)
    reached = _NOWHERE
    for bit in range(P256_ORDER.bit_length() - 1, -1, -1):
        reached = _doubled(reached)
        of_base, of_key = base_factor >> bit & 1, key_factor >> bit & 1
        if of_base and of_key:
            reached = _plus(reached, both)
        elif of_base or of_key:
            reached = _plus(reached, _P256_BASE if of_base else key)
    return reached


# Jacobian coordinates: a point (X, Y, Z) is x = X/Z², y = Y/Z³; Z = 0 is the point at infinity.
def _doubled(point: tuple[int, int, int]) -> tuple[int, int, int]:
    x, y, z = point
    if z == 0:
        return _NOWHERE
    slope = 3 * (x - z * z) * (x + z * z) % P256_PRIME
    yy = y * y % P256_PRIME
    s = 4 * x * yy % P256_PRIME
    new_x = (slope * slope - 2 * s) % P256_PRIME
    new_y = (slope * (s - new_x) - 8 * yy * yy) % P256_PRIME
    return new_x, new_y, 2 * y * z % P256_PRIME


def _plus(p: tuple[int, int, int], q: tuple[int, int, int]) -> tuple[int, int, int]:
    if p[2] == 0 or q[2] == 0:
        return q if p[2] == 0 else p
    pp, qq = p[2] * p[2] % P256_PRIME, q[2] * q[2] % P256_PRIME
    u, v = p[0] * qq % P256_PRIME, q[0] * pp % P256_PRIME
    s, t = p[1] * q[2] * qq % P256_PRIME, q[1] * p[2] * pp % P256_PRIME
    if u == v:
        return _doubled(p) if s == t else _NOWHERE
    h, r = v - u, t - s
    hh = h * h % P256_PRIME
    hhh, uhh = h * hh % P256_PRIME, u * hh % P256_PRIME
    x = (r * r - hhh - 2 * uhh) % P256_PRIME
    return x, (r * (uhh - x) - s * hhh) % P256_PRIME, h * p[2] * q[2] % P256_PRIME
