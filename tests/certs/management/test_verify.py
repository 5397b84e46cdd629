import io
import json
import zipfile

import pytest
from django.core.management import call_command

from certs.services.withdraw import withdraw_certificate
from inventory.queries.kept_files import read_file
from tests.certs.documents.verifier import handed_out
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT, given_person


def verify(*arguments):
    out, err = io.StringIO(), io.StringIO()
    with pytest.raises(SystemExit) as end:
        call_command("verify", *map(str, arguments), stdout=out, stderr=err)
    return end.value.code, out.getvalue(), err.getvalue()


@pytest.fixture
def paper(db, tables):
    return issued(given_cut_length_draft())


@pytest.fixture
def pdf(paper, tmp_path):
    path = tmp_path / "paper.pdf"
    path.write_bytes(read_file(paper.pdf))
    return path


@pytest.fixture
def bundle(tmp_path):
    path = tmp_path / "bundle.zip"
    with zipfile.ZipFile(path, "w") as archive:
        for name, data in handed_out.issued().items():
            archive.writestr(name, data)
    return path


def test_a_paper_is_checked_against_the_record(pdf, paper):
    code, told, _ = verify(pdf)
    assert paper.number in told
    assert "holds       same file as issued" in told
    # The keys of the tests are for evaluation, so that not everything is proved.
    assert (code, told.splitlines()[-1].strip()[:10]) == (3, "Not proved")


def test_a_number_stands_for_the_file_that_is_kept(paper):
    code, told, _ = verify(paper.number, "--json")
    (answer,) = json.loads(told)
    assert (code, answer["standing"], answer["number"]) == (3, "not_proved", paper.number)


def test_a_changed_and_a_withdrawn_paper_fail(pdf, paper):
    withdraw_certificate(certificate=paper, reason="Wrong reel", by=given_person(), at=MOMENT)
    assert "GENUINE, BUT NOT" in verify(pdf)[1]
    pdf.write_bytes(pdf.read_bytes() + b"%\n")
    code, told, _ = verify(pdf)
    assert (code, "NOT VALID." in told) == (1, True)


def test_what_is_neither_file_nor_number_is_said(db):
    code, _, complaint = verify("nothing.pdf")
    assert (code, "neither a file nor the number" in complaint) == (2, True)


def test_a_bundle_is_checked_without_the_database(bundle, capfd):
    """No database may be asked here: the test has none."""
    assert verify(bundle)[0] == 0
    assert "All 8 checks hold." in capfd.readouterr().out


def test_a_paper_is_checked_with_a_bundle_and_keys_beside(bundle, tmp_path, capfd):
    files = handed_out.issued()
    paper, keys = tmp_path / "paper.pdf", tmp_path / "jwks.json"
    paper.write_bytes(files["paper.pdf"] + b"%\n")
    keys.write_bytes(files["jwks.json"])
    assert verify(paper, "--bundle", bundle, "--keys", keys, "--json")[0] == 1
    told = json.loads(capfd.readouterr().out)
    assert told["all_hold"] is False
    assert {c["name"] for c in told["checks"] if c["verdict"] == "fails"} == {"file as issued"}
