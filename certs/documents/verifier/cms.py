"""Checks the signature that a PDF carries (CMS, RFC 5652): ECDSA P-256 with SHA-256.

Other kinds are told as unknown, which is not the same as wrong.
"""

import hashlib
from collections.abc import Sequence
from typing import NamedTuple, TypeVar

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.der import (
    BITS,
    CONTEXT_0,
    OBJECT,
    OCTETS,
    SEQUENCE,
    SET,
    Der,
    read_one_der,
)
from certs.documents.verifier.p256 import verify_p256

Part = TypeVar("Part")

_SIGNED_DATA = bytes.fromhex("2a864886f70d010702")
_MESSAGE_DIGEST = bytes.fromhex("2a864886f70d010904")
_TIME_STAMP_INFO = bytes.fromhex("2a864886f70d0109100104")
_SIGNING_CERTIFICATE_V2 = bytes.fromhex("2a864886f70d010910022f")
_SHA_256 = bytes.fromhex("608648016503040201")
_ECDSA_WITH_SHA_256 = bytes.fromhex("2a8648ce3d040302")
_EC_PUBLIC_KEY = bytes.fromhex("2a8648ce3d0201")
_PRIME_256_V1 = bytes.fromhex("2a8648ce3d030107")


class UnknownKindError(NotReadableError):
    """A signature of a kind that this tool cannot judge."""


class X509(NamedTuple):
    """What is needed of a certificate: whose key it is, and who vouches for that."""

    whole: bytes
    serial: int
    issuer: bytes
    subject: bytes
    point: bytes
    signed_part: bytes
    signature: bytes


class PaperSignature(NamedTuple):
    """A signature taken apart, before anything is checked."""

    certificates: tuple[X509, ...]
    signer: X509
    attributes: bytes
    message_digest: bytes
    signature: bytes


def read_certificate(data: bytes) -> X509:
    """Read a certificate of a P-256 key. Raises `NotReadableError`."""
    whole = read_one_der(data)
    to_sign, algorithm, signature = _exactly(whole.parts(), 3)
    fields = to_sign.parts()
    if fields and fields[0].tag == CONTEXT_0:
        fields = fields[1:]
    serial, _, issuer, _, subject, key = _at_least(fields, 6)[:6]
    _expect_algorithm(algorithm, _ECDSA_WITH_SHA_256)
    kind, bits = _exactly(key.parts(), 2)
    if [part.content for part in kind.parts()] != [_EC_PUBLIC_KEY, _PRIME_256_V1]:
        raise UnknownKindError("a key that is not on the curve P-256")
    return X509(
        whole=data,
        serial=serial.number(),
        issuer=issuer.whole,
        subject=subject.whole,
        point=_bits(bits),
        signed_part=to_sign.whole,
        signature=_bits(signature),
    )


def point_of_key(data: bytes) -> bytes:
    """Give the point (65 bytes) of a SubjectPublicKeyInfo. Raises `NotReadableError`."""
    kind, bits = _exactly(read_one_der(data).parts(), 2)
    if [part.content for part in kind.parts()] != [_EC_PUBLIC_KEY, _PRIME_256_V1]:
        raise UnknownKindError("a key that is not on the curve P-256")
    return _bits(bits)


def read_paper_signature(data: bytes) -> PaperSignature:
    """Take a CMS signature apart. Raises `NotReadableError`, `UnknownKindError` of other kinds."""
    kind, content = _exactly(read_one_der(data).parts(), 2)
    if kind.tag != OBJECT or kind.content != _SIGNED_DATA:
        raise UnknownKindError("it is no signature of CMS")
    fields = read_one_der(content.content).parts()
    signers = _at_least(fields, 4)[-1]
    held = next((field for field in fields if field.tag == CONTEXT_0), None)
    certificates = tuple(read_certificate(one.whole) for one in held.parts()) if held else ()
    (signer,) = _exactly(signers.parts(), 1)
    _, name, digest, attributes, algorithm, signature = _at_least(signer.parts(), 6)[:6]
    _expect_algorithm(digest, _SHA_256)
    _expect_algorithm(algorithm, _ECDSA_WITH_SHA_256)
    if attributes.tag != CONTEXT_0:
        raise UnknownKindError("a signature without signed attributes")
    issuer, serial = _exactly(name.parts(), 2)
    mine = [c for c in certificates if (c.issuer, c.serial) == (issuer.whole, serial.number())]
    (certificate,) = _exactly(mine, 1)
    _expect_named(attributes, certificate)
    return PaperSignature(
        certificates=certificates,
        signer=certificate,
        # RFC 5652, 5.4: what is signed is the set itself, not its implicit tag.
        attributes=bytes([SET]) + attributes.whole[1:],
        message_digest=_attribute(attributes, _MESSAGE_DIGEST).content,
        signature=signature.content,
    )


def stamped_digest(data: bytes) -> bytes:
    """Give the digest that a time stamp (RFC 3161, 2.4.2) is over. Raises `NotReadableError`.

    Neither the stamp's signature nor whose it is is checked.
    """
    _, content = _exactly(read_one_der(data).parts(), 2)
    inner = _at_least(read_one_der(content.content).parts(), 4)[2]
    kind, told = _exactly(inner.parts(), 2)
    if kind.content != _TIME_STAMP_INFO:
        raise UnknownKindError("it is no time stamp")
    octets = read_one_der(told.content)
    imprint = _at_least(read_one_der(octets.content).parts(), 5)[2]
    algorithm, digest = _exactly(imprint.parts(), 2)
    _expect_algorithm(algorithm, _SHA_256)
    return digest.content


def fault_of_signature(signature: PaperSignature, *, signed_digest: bytes) -> str:
    """Say what does not hold; an empty text when digest and signature do."""
    if signature.message_digest != signed_digest:
        return "The file was changed after it was signed: its bytes are not those that were signed."
    by_key = verify_p256(
        point=signature.signer.point, message=signature.attributes, signature=signature.signature
    )
    return "" if by_key else "The signature is not by the key that it names."


def is_vouched_for(certificate: X509, roots: Sequence[X509]) -> bool:
    """Tell whether one of these certificates, or the issuer among them, vouches for this one."""
    if any(root.whole == certificate.whole for root in roots):
        return True
    return any(
        root.subject == certificate.issuer
        and verify_p256(
            point=root.point, message=certificate.signed_part, signature=certificate.signature
        )
        for root in roots
    )


def _expect_named(attributes: Der, certificate: X509) -> None:
    """RFC 5035: the signature says by hash which certificate it is to be checked with."""
    named = _attribute(attributes, _SIGNING_CERTIFICATE_V2)
    first = _at_least(_at_least(named.parts(), 1)[0].parts(), 1)[0]
    hashed = next((part for part in first.parts() if part.tag == OCTETS), None)
    if hashed is None or hashed.content != hashlib.sha256(certificate.whole).digest():
        raise NotReadableError("the signature names another certificate than the one it carries")


def _attribute(attributes: Der, kind: bytes) -> Der:
    found = [
        values
        for name, values in (_exactly(one.parts(), 2) for one in attributes.parts())
        if name.content == kind
    ]
    (values,) = _exactly(found, 1)
    (value,) = _exactly(values.parts(), 1)
    return value


def _expect_algorithm(algorithm: Der, wanted: bytes) -> None:
    if algorithm.tag != SEQUENCE or _at_least(algorithm.parts(), 1)[0].content != wanted:
        raise UnknownKindError("an algorithm that this tool does not know")


def _bits(value: Der) -> bytes:
    if value.tag != BITS or value.content[:1] != b"\0":
        raise NotReadableError("a key or signature in it is not whole bytes")
    return value.content[1:]


def _exactly(parts: Sequence[Part], count: int) -> Sequence[Part]:
    if len(parts) != count:
        raise NotReadableError("its structure is not as it must be")
    return parts


def _at_least(parts: list[Der], count: int) -> list[Der]:
    if len(parts) < count:
        raise NotReadableError("its structure is not as it must be")
    return parts
