"""What the database refuses about reversed tests, whichever way a row is written."""

import pytest

from certs.models import CertificateProofTest
from certs.services.reverse_test import reverse_test
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_breaking_draft,
    given_certifiable_assembly,
    given_documented_reel,
    given_representative,
    issued,
)
from tests.factories import MOMENT, given_person, given_sample
from tests.inventory.models.ways import INSERTS, copy_of, refused_by, run

pytestmark = pytest.mark.usefixtures("tables")


@pytest.fixture
def proved(db):
    return given_proof_test(assembly=given_certifiable_assembly())


@pytest.fixture
def broken(db):
    return given_breaking_test(sample=given_sample(reel=given_documented_reel()), peak_n=99_000)


def reversal(test):
    return reverse_test(test=test, reason="typed twice", by=given_person(), at=MOMENT)


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        pytest.param({"breaking_test": None}, "test_reversal_names_one_test", id="names none"),
        pytest.param({"reason": ""}, "test_reversal_has_a_reason", id="no reason"),
    ],
)
@pytest.mark.parametrize("insert", INSERTS)
def test_a_reversal_is_whole(broken, insert, changes, name):
    another = given_breaking_test(sample=broken.sample, peak_n=99_000)
    with refused_by(name):
        insert(copy_of(reversal(broken), **{"breaking_test": another, **changes}))


def test_a_reversal_names_one_test_and_not_two(broken, proved):
    another = given_breaking_test(sample=broken.sample, peak_n=99_000)
    row = copy_of(reversal(broken), breaking_test=another, proof_test=proved)
    with refused_by("test_reversal_names_one_test"):
        row.save(force_insert=True)


def test_a_reversal_is_kept(broken):
    row = reversal(broken)
    with refused_by("certs_testreversal_is_kept"):
        run("UPDATE certs_testreversal SET reason = 'x' WHERE id = %s", [row.pk])
    with refused_by("certs_testreversal_is_never_deleted"):
        run("DELETE FROM certs_testreversal WHERE id = %s", [row.pk])


@pytest.mark.parametrize("insert", INSERTS)
def test_a_test_under_a_paper_in_force_is_not_reversed(broken, proved, insert):
    issued(given_assembly_draft(proved.assembly, first_validator=given_representative()))
    row = copy_of(reversal(broken), breaking_test=None, proof_test=proved)
    with refused_by("test_under_a_certificate_is_not_reversed"):
        insert(row)


def test_a_test_that_was_reported_is_not_reversed(broken):
    another = given_breaking_test(sample=broken.sample, peak_n=99_000)
    issued(given_breaking_draft(another))
    with refused_by("test_under_a_certificate_is_not_reversed"):
        copy_of(reversal(broken), breaking_test=another).save(force_insert=True)


def test_no_certificate_comes_to_rest_on_a_reversed_proof_load(proved):
    draft = given_assembly_draft(proved.assembly)
    reversal(proved)
    with refused_by("certificate_rests_on_no_reversed_proof_test"):
        CertificateProofTest(certificate=draft, proof_test=proved).save()


def test_no_report_of_a_reversed_test_is_issued(broken):
    draft = given_breaking_draft(broken)
    paper = issued(given_breaking_draft(given_breaking_test(sample=broken.sample, peak_n=99_000)))
    reversal(broken)
    columns = "number, issued_at, issued_by_id, snapshot, snapshot_sha256, pdf_id, pdf_sha256"
    with refused_by("certificate_reports_no_reversed_breaking_test"):
        run(
            f"UPDATE certs_certificate SET state = 'issued', ({columns}) = ("
            "SELECT 'BR-1', issued_at, issued_by_id, snapshot, snapshot_sha256, pdf_id, "
            "pdf_sha256 FROM certs_certificate WHERE id = %s) WHERE id = %s",
            [paper.pk, draft.pk],
        )
