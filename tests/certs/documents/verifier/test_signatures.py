import json

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from django.conf import settings
from hypothesis import given
from hypothesis import strategies as st

from certs.documents.verifier.ed25519 import verify_ed25519
from certs.documents.verifier.p256 import verify_p256

VECTORS = settings.ROOT / "tests" / "vectors"


def wycheproof(name):
    groups = json.loads((VECTORS / name).read_text())["testGroups"]
    return [(group, case) for group in groups for case in group["tests"]]


RFC_8032 = json.loads((VECTORS / "rfc8032_ed25519.json").read_text())["vectors"]
ED25519 = wycheproof("wycheproof_ed25519_test.json")
P256 = wycheproof("wycheproof_ecdsa_secp256r1_sha256_test.json")


def spoken(cases):
    return [f"{case['tcId']}-{case['comment']}" for _, case in cases]


@pytest.mark.parametrize("case", RFC_8032, ids=[case["name"] for case in RFC_8032])
def test_rfc_8032_signature_holds(case):
    key, message, signature = (
        bytes.fromhex(case[name]) for name in ("public_key", "message", "signature")
    )
    assert verify_ed25519(public_key=key, message=message, signature=signature)
    assert not verify_ed25519(public_key=key, message=message + b"x", signature=signature)


def test_every_wycheproof_case_is_there():
    assert (len(ED25519), len(P256)) == (151, 484)


@pytest.mark.parametrize(("group", "case"), ED25519, ids=spoken(ED25519))
def test_wycheproof_ed25519(group, case):
    holds = verify_ed25519(
        public_key=bytes.fromhex(group["publicKey"]["pk"]),
        message=bytes.fromhex(case["msg"]),
        signature=bytes.fromhex(case["sig"]),
    )
    assert holds == (case["result"] == "valid")


@pytest.mark.parametrize(("group", "case"), P256, ids=spoken(P256))
def test_wycheproof_p256(group, case):
    holds = verify_p256(
        point=bytes.fromhex(group["publicKey"]["uncompressed"]),
        message=bytes.fromhex(case["msg"]),
        signature=bytes.fromhex(case["sig"]),
    )
    assert holds == (case["result"] == "valid")


@pytest.mark.parametrize(
    "key",
    [
        pytest.param(b"\x04" + bytes(64), id="not on the curve"),
        pytest.param(b"\x02" + bytes(32), id="compressed"),
        pytest.param(b"", id="empty"),
    ],
)
def test_no_signature_is_by_a_key_that_is_none(key):
    _, case = P256[0]
    message, signature = bytes.fromhex(case["msg"]), bytes.fromhex(case["sig"])
    assert not verify_p256(point=key, message=message, signature=signature)


@pytest.mark.parametrize(
    "key",
    [
        pytest.param(b"\xff" * 31 + b"\x7f", id="written too large"),
        pytest.param((2).to_bytes(32, "little"), id="no point"),
        pytest.param((1).to_bytes(31, "little") + b"\x80", id="minus zero"),
        pytest.param(b"", id="empty"),
    ],
)
def test_no_ed25519_signature_is_by_a_key_that_is_none(key):
    assert not verify_ed25519(public_key=key, message=b"", signature=bytes(64))


@given(seed=st.binary(min_size=32, max_size=32), message=st.binary(max_size=40))
def test_agrees_with_another_library_about_what_it_signed(seed, message):
    private = Ed25519PrivateKey.from_private_bytes(seed)
    key = private.public_key().public_bytes(Encoding.Raw, PublicFormat.Raw)
    signature = private.sign(message)
    assert verify_ed25519(public_key=key, message=message, signature=signature)
    assert not verify_ed25519(public_key=key, message=message, signature=signature[::-1])
