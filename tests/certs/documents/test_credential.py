"""What a credential says of each kind of paper, and in which units.

Shape: W3C Verifiable Credentials Data Model v2.0, 4 (required members); units: UCUM.
"""

import json

import pytest

from certs.documents.credential import unsigned_credential
from certs.rules.ucum import UCUM
from inventory.rules.canonical import canonical_text
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_certifiable_assembly,
    given_cut_length_draft,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.factories import given_sample

pytestmark = pytest.mark.usefixtures("tables")
ISSUER = "did:web:rope.example"


def credential(paper):
    return unsigned_credential(
        json.loads(paper.snapshot), snapshot_sha256=paper.snapshot_sha256, issuer=ISSUER
    )


@pytest.fixture
def cut_length():
    return issued(given_cut_length_draft())


@pytest.fixture
def proved_assembly():
    assembly = given_certifiable_assembly()
    given_proof_test(assembly=assembly)
    return issued(given_assembly_draft(assembly, first_validator=given_representative()))


@pytest.fixture
def breaking_report():
    sample = given_sample(reel=given_documented_reel())
    return issued(given_breaking_draft(given_breaking_test(sample=sample, peak_n=105_000)))


def test_it_has_what_the_data_model_requires(cut_length):
    made = credential(cut_length)
    assert made["@context"][0] == "https://www.w3.org/ns/credentials/v2"
    assert made["type"][0] == "VerifiableCredential"
    assert made["issuer"] == ISSUER
    assert made["validFrom"] == "2026-03-02T08:00:00Z"
    assert made["credentialSubject"]


def test_it_binds_the_whole_snapshot_and_names_no_person(cut_length):
    made = credential(cut_length)
    assert made["credentialSubject"]["record"]["sha256"] == cut_length.snapshot_sha256
    text = canonical_text(made)  # raises for a float
    snapshot = json.loads(cut_length.snapshot)
    for personal in (snapshot["issued_by"]["name"], snapshot["customer"]["name"]):
        assert personal not in text


def test_a_cut_length_says_where_it_was_cut_and_what_it_bears(cut_length):
    subject = credential(cut_length)["credentialSubject"]
    (item,) = subject["items"]
    assert item["length"] == {"value": "10000", "unit": "mm"}
    assert item["cutFrom"]["to"] == {"value": "10000", "unit": "mm"}
    assert item["heats"] == ["40001"]
    (force,) = subject["results"]
    # Feyrer, Table 1.9: K = 0.388 for 6x7 with a wire core; 0.388 x 12^2 x 1770 / 1000 = 98.9 kN.
    assert (force["value"], force["unit"]) == ("98.9", "kN")


def test_an_assembly_says_what_it_may_carry_and_under_which_condition(proved_assembly):
    subject = credential(proved_assembly)["credentialSubject"]
    snapshot = json.loads(proved_assembly.snapshot)
    told = {(r["quantity"], r["value"], r["unit"]) for r in subject["results"]}
    for rating in snapshot["assembly"]["ratings"]:
        assert (rating["quantity"], rating["stated"], UCUM[rating["unit"]]) in told
    test = next(r for r in subject["results"] if r["quantity"] == "proof load reached")
    assert test["value"] == str(snapshot["proof_tests"][0]["peak_n"])
    assert test["log"] == snapshot["proof_tests"][0]["log"]["sha256"]


def test_a_breaking_report_says_the_force_that_was_measured(breaking_report):
    results = credential(breaking_report)["credentialSubject"]["results"]
    test = next(r for r in results if r["quantity"] == "breaking force measured")
    assert test["value"] == str(json.loads(breaking_report.snapshot)["breaking_tests"][0]["peak_n"])
    assert test["unit"] == "N"


def test_a_later_paper_names_the_one_it_replaces(cut_length):
    snapshot = json.loads(cut_length.snapshot) | {"replaces": {"number": "CL-1", "reason": "typo"}}
    made = unsigned_credential(snapshot, snapshot_sha256="0" * 64, issuer=ISSUER)
    assert made["credentialSubject"]["certificate"]["replaces"] == "CL-1"
