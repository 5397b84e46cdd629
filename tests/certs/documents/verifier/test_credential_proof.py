"""Against the vectors of the W3C Recommendation and of RFC 8785; tests/vectors/README.md."""

import json

import pytest
from django.conf import settings
from hypothesis import given
from hypothesis import strategies as st

from certs.documents.verifier.answers import NotReadableError
from certs.documents.verifier.credential_proof import (
    from_base58,
    is_proved_by,
    key_named_in,
    read_credential_keys,
)
from certs.documents.verifier.json_form import canonical_json, read_json
from inventory.rules.canonical import canonical_bytes

VECTORS = settings.ROOT / "tests" / "vectors"
W3C = VECTORS / "w3c_vc_di_eddsa"
SIGNED = json.loads((W3C / "eddsa-jcs-2022" / "signedJCS.json").read_text())
PUBLIC = from_base58(json.loads((W3C / "keyPair.json").read_text())["publicKeyMultibase"])[2:]
HOUSE = "did:web:rope.example"
# Two of the six published cases hold numbers with a fraction, which records never do.
FRACTIONS = {"structures", "values"}

whole_json = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=8,
)


@pytest.mark.parametrize(
    "case", sorted(p.stem for p in (VECTORS / "rfc8785_jcs" / "input").glob("*.json"))
)
def test_published_canonical_forms(case):
    source = (VECTORS / "rfc8785_jcs" / "input" / f"{case}.json").read_bytes()
    if case in FRACTIONS:
        with pytest.raises(NotReadableError):
            read_json(source)
    else:
        wanted = (VECTORS / "rfc8785_jcs" / "output" / f"{case}.json").read_bytes()
        assert canonical_json(read_json(source)) == wanted.rstrip(b"\n")


@given(whole_json)
def test_writes_as_another_library_does(value):
    assert canonical_json(value) == canonical_bytes(value)


@pytest.mark.parametrize(
    "data",
    [
        pytest.param(b'{"a":1,"a":1}', id="a name twice"),
        pytest.param(b'{"a":1.0}', id="a fraction"),
        pytest.param(b'{"a":NaN}', id="not a number"),
        pytest.param(b"\xff", id="not UTF-8"),
        pytest.param(b"[" * 100_000, id="nested without end"),
        pytest.param(b"", id="nothing"),
    ],
)
def test_json_that_could_be_read_two_ways_is_refused(data):
    with pytest.raises(NotReadableError):
        read_json(data)


@pytest.mark.parametrize(
    "value",
    [
        pytest.param(2**53, id="too great"),
        pytest.param("\ud800", id="half a character"),
        pytest.param(0.5, id="a fraction"),
    ],
)
def test_what_has_no_canonical_form_is_refused(value):
    with pytest.raises(NotReadableError):
        canonical_json(value)


def test_published_proof_holds():
    assert is_proved_by(SIGNED, PUBLIC)


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"name": "Another Credential"}, id="what it says"),
        pytest.param({"proof": {**SIGNED["proof"], "created": "2023-02-24T23:36:39Z"}}, id="date"),
        pytest.param({"@context": SIGNED["@context"][:1]}, id="its context"),
        pytest.param({"proof": {**SIGNED["proof"], "proofValue": "z1"}}, id="its signature"),
        pytest.param({"proof": None}, id="no proof"),
    ],
)
def test_published_proof_holds_for_nothing_else(changes):
    assert not is_proved_by({**SIGNED, **changes}, PUBLIC)


@pytest.mark.parametrize(
    "proof",
    [
        pytest.param({"type": "Other"}, id="another kind"),
        pytest.param({"cryptosuite": "eddsa-rdfc-2022"}, id="another suite"),
        pytest.param({"proofPurpose": "authentication"}, id="another purpose"),
        pytest.param({"verificationMethod": "did:web:other.example#1"}, id="another house's key"),
    ],
)
def test_a_proof_of_another_kind_is_refused(proof):
    document = {**SIGNED, "issuer": HOUSE}
    named = {**SIGNED["proof"], "verificationMethod": f"{HOUSE}#1"}
    assert key_named_in({**document, "proof": named}) == f"{HOUSE}#1"
    with pytest.raises(NotReadableError):
        key_named_in({**document, "proof": {**named, **proof}})


def did_document(**changes):
    key = {
        "id": f"{HOUSE}#1",
        "type": "Multikey",
        "controller": HOUSE,
        "publicKeyMultibase": json.loads((W3C / "keyPair.json").read_text())["publicKeyMultibase"],
        "revoked": "2026-01-01T00:00:00Z",
    }
    return {
        "id": HOUSE,
        "verificationMethod": [{**key, **changes}],
        "assertionMethod": [f"{HOUSE}#1"],
    }


def test_keys_of_an_issuer_are_read_with_their_end():
    (key,) = read_credential_keys(did_document())
    assert key == (f"{HOUSE}#1", PUBLIC, "", "2026-01-01T00:00:00Z")


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"id": f"{HOUSE}#2"}, id="not for asserting"),
        pytest.param({"controller": "did:web:other.example"}, id="of another"),
        pytest.param({"publicKeyMultibase": "z6Mk"}, id="no key"),
    ],
)
def test_a_key_that_is_not_the_issuers_is_passed_over(changes):
    assert read_credential_keys(did_document(**changes)) == []
