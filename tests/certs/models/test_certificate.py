"""What the database refuses of a certificate, whichever way a row is written."""

import pytest

from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_cut_length_draft,
    issued,
)
from tests.inventory.models.ways import INSERTS, copy_of, refused_by

pytestmark = pytest.mark.usefixtures("tables")


def given_sling_draft():
    return given_assembly_draft(given_certifiable_assembly())


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(
    ("given_draft", "marked_kg"),
    [
        pytest.param(given_cut_length_draft, 500, id="on cut lengths"),
        pytest.param(given_sling_draft, 0, id="nothing on an assembly"),
    ],
)
def test_a_mark_that_cannot_be_is_refused(db, insert, given_draft, marked_kg):
    row = copy_of(given_draft(), draft_code="CD-90000", marked_kg=marked_kg)
    with refused_by("certificate_mark_is_of_an_assembly"):
        insert(row)


def test_a_mark_on_an_assembly_is_kept(db):
    row = copy_of(given_sling_draft(), draft_code="CD-90000", marked_kg=500)
    row.save(force_insert=True)
    row.refresh_from_db()
    assert row.marked_kg == 500


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(
    ("lacks", "name"),
    [
        pytest.param({"pdf_sha256": ""}, "certificate_is_draft_or_whole", id="no paper"),
        pytest.param({"snapshot_sha256": ""}, "certificate_is_draft_or_whole", id="no snapshot"),
        pytest.param(
            {"credential": "", "credential_sha256": ""},
            "certificate_is_draft_or_whole",
            id="no credential",
        ),
        pytest.param({"credential": ""}, "certificate_credential_has_its_hash", id="only its hash"),
    ],
)
def test_half_a_certificate_is_refused(db, insert, lacks, name):
    whole = issued(given_cut_length_draft())
    row = copy_of(whole, draft_code="CD-90000", number="CL-2026-90000", **lacks)
    with refused_by(name):
        insert(row)
