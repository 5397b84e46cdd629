"""The drill with keys, by command: all three rotated, then one stolen; what stands and who notices.

The clock of the commands is the real one, and so is that of the papers here.
"""

import io
import json
from datetime import UTC, datetime, timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.core.management import call_command
from django.test import Client
from django.urls import reverse

from certs.documents.certificate_pdf import certificate_pdf
from certs.documents.pdf_signature import sign_pdf
from certs.queries.papers import Paper
from certs.services.issue import CannotIssue, issue_certificate
from inventory.models import JournalEntry, SigningKey
from inventory.queries.kept_files import read_file
from inventory.queries.log_proofs import proof_of_entry
from inventory.rules.signing import Purpose
from inventory.services.keyring import signer_for
from inventory.services.open_keys import forget_opened_keys
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import given_person

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

CANNOT_SAY = 3


@pytest.fixture(autouse=True)
def keys_root(settings, tmp_path):
    settings.KEYS_ROOT = tmp_path / "keys"
    settings.PUBLIC_ORIGIN = "https://records.example"
    forget_opened_keys()


@pytest.fixture
def run(administrator, capfd):
    """Run a command; give its exit code and what it printed."""

    def run(*words):
        out = io.StringIO()
        capfd.readouterr()
        try:
            call_command(*words, stdout=out, stderr=out)
        except SystemExit as end:
            return end.code, out.getvalue() + capfd.readouterr().out
        return 0, out.getvalue()

    return run


def now():
    return datetime.now(tz=UTC)  # noqa: TID251 -- as the commands do


def in_use(purpose):
    return SigningKey.objects.filter(purpose=purpose.value).latest("id")


def given_two_papers(run, settings):
    """One under the evaluation keys, then all are rotated, then another under the house's own.

    Gives also a draft that is left: what drafts are made of is entered on the day of the tests, and
    so before anything of today.
    """
    drafts = [given_cut_length_draft() for _ in range(3)]
    old = issued(drafts[0])
    settings.KEYS_PASSPHRASE = "twenty signs are the least of it"
    assert run("make_keys", "--purpose", "all", "--overlap-days", "0")[0] == 0
    new = issue_certificate(certificate=drafts[1], by=given_person(), at=now())
    assert (old.is_evaluation, new.is_evaluation) == (True, False)
    return old, new, drafts[2]


def on_the_page(content):
    sent = SimpleUploadedFile("paper.pdf", content, content_type="application/pdf")
    return Client().post(reverse("certs:check"), {"file": sent}).text


def offline(run, folder, *papers):
    """Hand the auditor papers, data, proofs and public keys; give what does not hold."""
    folder.mkdir()
    for paper in papers:
        number = str(paper.number)
        entry = JournalEntry.objects.get(act="issue_certificate", subject=number)
        (folder / f"{number}.pdf").write_bytes(read_file(paper.pdf))
        (folder / f"{number}.json").write_text(paper.credential)
        (folder / f"{number}.tlog-proof").write_text(proof_of_entry(entry).text)
    (folder / "jwks.json").write_bytes(Client().get("/.well-known/jwks.json").content)
    code, told = run("verify", str(folder), "--json")
    checks = json.loads(told)["checks"]
    return code, {
        (c["subject"], c["name"]): c["verdict"] for c in checks if c["verdict"] != "holds"
    }


def test_all_keys_are_rotated_and_old_and_new_papers_stand(run, settings, tmp_path):
    old, new, _ = given_two_papers(run, settings)
    for paper, code, word in ((old, CANNOT_SAY, "Not proved"), (new, 0, "Genuine and in force")):
        path = tmp_path / f"{paper.number}.pdf"
        path.write_bytes(read_file(paper.pdf))
        found, told = run("verify", str(path))
        assert (found, word in told, "  fails  " in told) == (code, True, False)
        assert f"<h1>{word}</h1>" in on_the_page(path.read_bytes())
    vouch = (f"{old.number}.pdf", "who vouches for the keys")
    assert offline(run, tmp_path / "both", old, new) == (CANNOT_SAY, {vouch: "cannot say"})
    assert offline(run, tmp_path / "new", new) == (0, {})
    assert run("checkpoint")[0] == 0
    assert run("audit")[0] == 0


def forged(paper, signer, at):
    """The same facts with a signature of the stolen key, made after it was missed."""
    pdf = certificate_pdf(
        Paper.of(paper).snapshot, canonical=paper.snapshot, credential=paper.credential
    )
    return sign_pdf(pdf, signer=signer, house="Invented Stockist", at=at)


def test_a_stolen_paper_key_is_revoked_and_only_what_the_journal_dates_before_stands(
    run, settings, tmp_path
):
    _, new, draft = given_two_papers(run, settings)
    stolen = signer_for(Purpose.PAPER)
    code, told = run("revoke_key", stolen.name, "--reason", "The laptop was stolen.")
    assert (code, "make_keys --purpose paper" in told) == (0, True)

    # Nothing is issued until there is another key; what was issued before stands.
    with pytest.raises(CannotIssue, match="make_keys"):
        issue_certificate(certificate=draft, by=given_person(), at=now())
    assert run("verify", str(new.number))[0] == CANNOT_SAY  # for no file was handed in
    path = tmp_path / "new.pdf"
    path.write_bytes(read_file(new.pdf))
    assert run("verify", str(path))[0] == 0
    assert offline(run, tmp_path / "new", new) == (0, {})

    # The thief's paper is told by everyone who looks.
    path.write_bytes(forged(new, stolen, at=now() + timedelta(minutes=1)))
    code, told = run("verify", str(path))
    assert (code, "NOT VALID." in told) == (1, True)
    assert f"The key {stolen.name} was revoked on" in told
    assert "<h1>Not valid</h1>" in on_the_page(path.read_bytes())
    (tmp_path / "jwks.json").write_bytes(Client().get("/.well-known/jwks.json").content)
    code, told = run("verify", str(path), "--keys", str(tmp_path / "jwks.json"))
    assert (code, "was revoked on" in told) == (1, True)

    # The next key signs, and the record agrees with itself throughout.
    assert run("make_keys", "--purpose", "paper")[0] == 0
    third = issue_certificate(certificate=draft, by=given_person(), at=now())
    path.write_bytes(read_file(third.pdf))
    assert run("verify", str(path))[0] == 0
    assert run("audit")[0] == 0


def test_a_stolen_key_of_the_journal_vouches_for_nothing_until_the_next_one_signs(
    run, settings, tmp_path
):
    # The last checkpoint is the first after the change: the evaluation key signed it as well.
    _, new, _ = given_two_papers(run, settings)
    path = tmp_path / "new.pdf"
    path.write_bytes(read_file(new.pdf))
    run("revoke_key", in_use(Purpose.LOG).name, "--reason", "The laptop was stolen.")
    code, told = run("verify", str(path))
    assert (code, "nobody vouches for the journal today" in told) == (CANNOT_SAY, True)
    assert offline(run, tmp_path / "between", new)[0] != 0
    run("make_keys", "--purpose", "log")
    assert run("checkpoint")[0] == 0
    assert run("verify", str(path))[0] == 0
    assert offline(run, tmp_path / "after", new) == (0, {})
    assert run("audit")[0] == 0
