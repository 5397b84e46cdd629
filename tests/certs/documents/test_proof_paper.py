"""What an assembly's certificate prints of its proof load: bounds, hold, and what stayed of it."""

import json

import pytest

from certs.documents.certificate_pdf import certificate_html, certificate_pdf
from certs.services.record_tests import record_proof_test
from inventory.queries.kept_files import read_file
from inventory.rules.roles import Role
from tests.certs.claims import force_log
from tests.certs.documents.test_certificate_pdf import text_of
from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_representative,
    issued,
)
from tests.factories import MOMENT, given_machine, given_person

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def certificate():
    assembly = given_certifiable_assembly()
    record_proof_test(
        assembly=assembly,
        machine=given_machine(),
        tested_at=MOMENT,
        required_n=40_000,
        required_hold_s=60,
        rule="order 1",
        log=force_log(peak_n=40_800, hold_s=65),
        log_name="bench.csv",
        ceiling_n=42_000,
        before_is_good=True,
        before_note="no broken wires",
        after_is_good=True,
        after_note="as before",
        gauge_before_um=1_000_000,
        gauge_after_um=1_002_500,
        extension_limit_pct="0.5",
        by=given_person(Role.TEST_BENCH),
        at=MOMENT,
    )
    return issued(given_assembly_draft(assembly, first_validator=given_representative()))


def test_the_paper_tells_the_bounds_the_hold_the_inspections_and_what_stayed(certificate):
    text = text_of(read_file(certificate.pdf))
    # Class 1, q = 1 % (ISO 7500-1, read): 40 000 x 1.01 and 42 000 x 0.99; 2.5 mm of 1000 mm.
    assert "Show at least 40400 N and at most 41580 N." in text
    assert "F = 40000 × (1 + 1 / 100)" in text
    assert "F = 42000 × (1 - 1 / 100)" in text
    assert "Permanent extension: 0.25 %, within the limit of 0.5 %" in text
    assert "e = 100 × (1002.5 - 1000) / 1000" in text
    assert "never below 40.8 kN" in text
    assert "no fault found: no broken wires" in text
    assert "no fault found: as before" in text


def test_the_facts_are_frozen_in_the_snapshot_without_floats(certificate):
    (test,) = json.loads(certificate.snapshot)["proof_tests"]
    assert [one["stated"] for one in test["to_show"]["derivations"]] == ["40400", "41580"]
    assert test["extension"]["derivation"]["stated"] == "0.25"


def test_a_paper_of_earlier_days_is_printed_as_before(certificate):
    snapshot = json.loads(certificate.snapshot)
    for test in snapshot["proof_tests"]:
        del test["to_show"], test["extension"]
    html = certificate_html(snapshot, is_site_copy=False)
    assert "To be shown by the machine" not in html
    assert certificate_pdf(snapshot, canonical=certificate.snapshot)
