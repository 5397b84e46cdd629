"""The proof of a credential against the vectors of the W3C Recommendation (15 May 2025).

Source: vc-di-eddsa test vectors, suite eddsa-jcs-2022; tests/vectors/README.md.
"""

import copy
import json
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.credential import fault_of, is_signed_by, sign_credential, signing_input
from certs.rules.multibase import ed25519_multikey, from_multibase, to_multibase
from inventory.rules.canonical import canonical_bytes, sha256_hex

VECTORS = Path(__file__).parents[2] / "vectors" / "w3c_vc_di_eddsa"
JCS = VECTORS / "eddsa-jcs-2022"


def text(name):
    return (JCS / name).read_text().strip()


UNSIGNED = json.loads((VECTORS / "unsigned.json").read_text())
OPTIONS = json.loads(text("proofConfigJCS.json"))
SIGNED = json.loads(text("signedJCS.json"))
PAIR = json.loads((VECTORS / "keyPair.json").read_text())
PUBLIC = from_multibase(PAIR["publicKeyMultibase"])[2:]
PRIVATE = Ed25519PrivateKey.from_private_bytes(from_multibase(PAIR["privateKeyMultibase"])[2:])


def test_the_published_key_is_one_pair_and_is_written_as_published():
    assert PRIVATE.public_key().public_bytes_raw() == PUBLIC
    assert ed25519_multikey(PUBLIC) == PAIR["publicKeyMultibase"]


@pytest.mark.parametrize(
    ("value", "canonical", "digest"),
    [
        pytest.param(UNSIGNED, "canonDocJCS.txt", "docHashJCS.txt", id="document"),
        pytest.param(OPTIONS, "proofCanonJCS.txt", "proofHashJCS.txt", id="proof options"),
    ],
)
def test_published_canonical_form_and_hash(value, canonical, digest):
    assert canonical_bytes(value).decode() == text(canonical)
    assert sha256_hex(canonical_bytes(value)) == text(digest)


def test_published_signing_input():
    assert signing_input(UNSIGNED, OPTIONS).hex() == text("combinedHashJCS.txt")


def test_published_signature_is_made_again():
    made = sign_credential(
        UNSIGNED,
        verification_method=OPTIONS["verificationMethod"],
        created=OPTIONS["created"],
        sign=PRIVATE.sign,
    )
    assert made == SIGNED
    assert from_multibase(made["proof"]["proofValue"]).hex() == text("sigHexJCS.txt")
    assert made["proof"]["proofValue"] == text("sigBTC58JCS.txt")


def test_published_credential_is_accepted():
    assert is_signed_by(SIGNED, PUBLIC)


def paths(value, at=()):
    """The way to every text in the document."""
    if isinstance(value, dict):
        return [p for key, inner in value.items() for p in paths(inner, (*at, key))]
    if isinstance(value, list):
        return [p for i, inner in enumerate(value) for p in paths(inner, (*at, i))]
    return [at]


@pytest.mark.parametrize("path", paths(SIGNED), ids=lambda p: "/".join(map(str, p)))
def test_a_change_of_any_value_is_noticed(path):
    changed = copy.deepcopy(SIGNED)
    inner = changed
    for step in path[:-1]:
        inner = inner[step]
    inner[path[-1]] += "1"
    assert not is_signed_by(changed, PUBLIC)


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"more": "of it"}, id="something added"),
        pytest.param({"proof": None}, id="no proof"),
        pytest.param({"proof": "signed, believe me"}, id="a proof in words"),
        pytest.param({"proof": {**SIGNED["proof"], "proofValue": 5}}, id="a number as signature"),
        pytest.param({"@context": []}, id="no context"),
    ],
)
def test_what_is_no_good_proof_is_refused(change):
    assert not is_signed_by(SIGNED | change, PUBLIC)


ISSUER = "did:web:rope.example"
ADDRESS = f"{ISSUER}#one"
OURS = sign_credential(
    {"@context": ["https://www.w3.org/ns/credentials/v2"], "issuer": ISSUER, "name": "a paper"},
    verification_method=ADDRESS,
    created="2026-03-02T08:00:00Z",
    sign=PRIVATE.sign,
)


def proof_with(**change):
    return OURS | {"proof": OURS["proof"] | change}


@pytest.mark.parametrize(
    ("document", "keys", "words"),
    [
        pytest.param(OURS, {ADDRESS: PUBLIC}, "", id="whole"),
        pytest.param({"issuer": ISSUER}, {}, "no proof", id="unsigned"),
        pytest.param(proof_with(type="Seal"), {}, "type", id="another kind of proof"),
        pytest.param(proof_with(cryptosuite="x"), {}, "cryptosuite", id="another suite"),
        pytest.param(proof_with(proofPurpose="x"), {}, "proofPurpose", id="another purpose"),
        pytest.param(OURS, {}, "not known", id="a key that nobody knows"),
        pytest.param(OURS | {"issuer": "did:web:other"}, {}, "belong", id="another's key"),
        pytest.param(proof_with(verificationMethod=7), {}, "belong", id="no key named"),
        pytest.param(OURS | {"name": "x"}, {ADDRESS: PUBLIC}, "changed", id="changed later"),
        pytest.param(OURS, {ADDRESS: PUBLIC[::-1]}, "changed", id="under another key"),
    ],
)
def test_what_is_wrong_is_told_in_words(document, keys, words):
    fault = fault_of(document, keys=keys)
    assert words in fault
    assert bool(words) == bool(fault)


@given(st.binary(max_size=40))
def test_multibase_is_read_back(data):
    assert from_multibase(to_multibase(data)) == data


@pytest.mark.parametrize(
    ("data", "written"),
    [
        # Internet-Draft draft-msporny-base58, test vectors.
        pytest.param(b"Hello World!", "z2NEpo7TZRRrLZSi2U", id="a greeting"),
        pytest.param(bytes.fromhex("0000287fb4cd"), "z11233QC4", id="leading noughts"),
    ],
)
def test_published_base_58(data, written):
    assert to_multibase(data) == written


@pytest.mark.parametrize("wrong", ["", "m00", "z0OIl", "zé"])
def test_what_is_no_base_58_is_refused(wrong):
    with pytest.raises(ValueError, match=r"base 58|not found"):
        from_multibase(wrong)


def test_a_key_of_another_length_is_refused():
    with pytest.raises(ValueError, match="32 bytes"):
        ed25519_multikey(PUBLIC[1:])
