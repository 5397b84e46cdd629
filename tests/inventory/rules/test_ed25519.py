"""Against RFC 8032 and every case of the Wycheproof project."""

import json
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

from inventory.rules.ed25519 import is_signed

VECTORS = Path(__file__).parents[2] / "vectors"
RFC_8032 = json.loads((VECTORS / "rfc8032_ed25519.json").read_text())["vectors"]
WYCHEPROOF = json.loads((VECTORS / "wycheproof_ed25519_test.json").read_text())


def unhexed(case):
    return {name: bytes.fromhex(case[name]) for name in ("public_key", "signature")} | {
        "data": bytes.fromhex(case["message"])
    }


@pytest.mark.parametrize("case", RFC_8032, ids=lambda case: case["name"])
def test_the_published_signatures_hold_and_are_made_again(case):
    """RFC 8032, 7.1: five test vectors."""
    given = unhexed(case)
    key = Ed25519PrivateKey.from_private_bytes(bytes.fromhex(case["secret_key"]))
    assert key.public_key().public_bytes_raw() == given["public_key"]
    assert key.sign(given["data"]) == given["signature"]
    assert is_signed(**given)
    assert not is_signed(**given | {"data": given["data"] + b"\x00"})


@pytest.mark.parametrize(
    ("key", "case"),
    [
        pytest.param(
            group["publicKey"]["pk"], case, id=f"{case['tcId']} {case['comment'] or 'signed'}"
        )
        for group in WYCHEPROOF["testGroups"]
        for case in group["tests"]
    ],
)
def test_the_cases_of_wycheproof(key, case):
    holds = is_signed(
        public_key=bytes.fromhex(key),
        signature=bytes.fromhex(case["sig"]),
        data=bytes.fromhex(case["msg"]),
    )
    assert holds is (case["result"] == "valid")


def test_no_case_is_left_out():
    cases = [case for group in WYCHEPROOF["testGroups"] for case in group["tests"]]
    assert len(cases) == WYCHEPROOF["numberOfTests"] == 151
    assert {case["result"] for case in cases} == {"valid", "invalid"}


@pytest.mark.parametrize("name", ["public_key", "signature"])
@pytest.mark.parametrize("change", [b"", b"\x00"], ids=["too short", "too long"])
def test_what_has_another_length_holds_for_nothing(name, change):
    given = unhexed(RFC_8032[0])
    changed = given[name] + change if change else given[name][:-1]
    assert not is_signed(**given | {name: changed})
