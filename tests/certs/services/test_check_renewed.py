"""A paper under time stamps, sealed at issue and renewed later: on the check page and offline.

The time-stamp service is pyHanko's stand-in with keys of the test; nothing is asked over a network.
"""

from datetime import timedelta

import pytest
from rest_framework.test import APIClient

from certs.documents.verifier.answers import FAILS, HOLDS, UNSAID
from certs.documents.verifier.command import verify_files
from certs.queries.paper_identity import Identity
from certs.rules.paper_check import CheckVerdict, Standing, Topic
from certs.services import sealing
from certs.services.check_paper import check_file
from certs.services.renew_paper import renew_paper
from certs.services.revocation_data import RevocationData
from certs.services.withdraw import withdraw_certificate
from inventory.models import JournalEntry
from inventory.queries.kept_files import read_file
from inventory.queries.log_proofs import proof_of_entry
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.checkpoint import make_checkpoint
from inventory.services.keyring import make_key
from tests.certs.documents.signing import StampHouse
from tests.certs.documents.verifier.test_command import overlaid, with_byte_turned
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT, given_person

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

LATER = MOMENT + timedelta(days=1)


@pytest.fixture(autouse=True)
def next_clock(tmp_path, settings, monkeypatch):
    """Keys that vouch for the house, and a time-stamp service; gives what turns to the next."""
    settings.PUBLIC_ORIGIN = "https://records.example"
    settings.KEYS_PASSPHRASE = "seven horses on a dry quay"
    keeper = given_person(Role.ADMINISTRATOR)
    for purpose in Purpose:
        make_key(purpose, is_evaluation=False, by=keeper, at=MOMENT)
    first, following = StampHouse(since=MOMENT), StampHouse("Next", since=LATER)
    settings.TSA_URL = "https://clock.example/"
    settings.TSA_ROOTS = str(tmp_path / "clocks.pem")
    (tmp_path / "clocks.pem").write_text(first.root_pem + following.root_pem)
    # What would be fetched from the services: their lists of revoked certificates.
    served = [clock.revocation_list(at) for clock, at in ((first, MOMENT), (following, LATER))]
    monkeypatch.setattr(sealing, "revocation_data", lambda *_, **__: RevocationData(tuple(served)))

    def answer(clock, at):
        monkeypatch.setattr(sealing, "time_stamper", lambda: clock.stamper(at))

    answer(first, MOMENT)
    return lambda: answer(following, LATER)


@pytest.fixture
def paper():
    return issued(given_cut_length_draft())


@pytest.fixture
def renewed(paper, next_clock):
    next_clock()
    return read_file(renew_paper(certificate=paper, by=given_person(), at=LATER).file)


def not_holding(answer):
    return {c.topic: c.verdict for c in answer.checks if c.verdict is not CheckVerdict.HOLDS}


def test_a_sealed_paper_is_good(paper):
    content = read_file(paper.pdf)
    assert b"ETSI.RFC3161" in content
    answer = check_file(content)
    assert (not_holding(answer), answer.standing) == ({}, Standing.GOOD)
    assert answer.identity is Identity.ISSUED


def test_a_renewed_paper_is_good_and_told_as_one(paper, renewed):
    assert renewed.startswith(read_file(paper.pdf))
    answer = check_file(renewed)
    assert (not_holding(answer), answer.standing) == ({}, Standing.GOOD)
    assert (answer.identity, answer.number) == (Identity.RENEWED, paper.number)
    assert "with a later time stamp of ours" in answer.checks[0].meaning
    # The paper as issued stays good beside it.
    assert check_file(read_file(paper.pdf)).standing is Standing.GOOD


def test_a_renewed_paper_that_was_withdrawn_is_not_in_force(paper, renewed):
    withdraw_certificate(certificate=paper, reason="Wrong reel", by=given_person(), at=LATER)
    answer = check_file(renewed)
    assert not_holding(answer) == {Topic.STATUS: CheckVerdict.FAILS}


def test_stamps_of_a_service_that_is_not_trusted_here_prove_nothing(paper, renewed, settings):
    settings.TSA_ROOTS = ""
    assert check_file(renewed).standing is Standing.NOT_GENUINE


# Offline the stamp itself is not judged: who changed only that is told apart from nobody.
TAMPERED = [
    pytest.param(lambda pdf: with_byte_turned(pdf, 600), FAILS, id="a byte of the page"),
    pytest.param(overlaid, FAILS, id="an overlay added"),
    pytest.param(lambda pdf: pdf + b"% a comment\n", FAILS, id="a comment added"),
    pytest.param(lambda pdf: pdf + bytes(2000), FAILS, id="zero bytes added"),
    pytest.param(
        lambda pdf: with_byte_turned(pdf, len(pdf) - 4000), UNSAID, id="a byte of the last stamp"
    ),
]


@pytest.mark.parametrize(("tamper", "_offline"), TAMPERED)
def test_a_changed_renewed_paper_is_not_genuine(renewed, tamper, _offline):
    assert check_file(tamper(renewed)).standing is Standing.NOT_GENUINE


@pytest.fixture
def offline(paper, renewed, tmp_path):
    """Verify the renewed file beside proofs of these acts, and the keys of the house."""
    make_checkpoint(at=LATER)

    def verified(content, *acts):
        folder = tmp_path / "handed in"
        folder.mkdir()
        for entry in JournalEntry.objects.filter(act__in=acts):
            path = folder / f"{entry.number}.tlog-proof"
            path.write_bytes(proof_of_entry(entry).text.encode())
        (folder / "jwks.json").write_bytes(APIClient().get("/.well-known/jwks.json").content)
        (folder / "paper.pdf").write_bytes(content)
        found = verify_files([str(folder)])
        return {c.name: (c.verdict, c.meaning) for c in found if c.subject == "paper.pdf"}

    return verified


BOTH = ("issue_certificate", "renew_paper")


@pytest.mark.parametrize("acts", [BOTH, BOTH[:1]])
def test_offline_the_paper_as_issued_is_the_very_file_whoever_renewed_it(paper, offline, acts):
    found = offline(read_file(paper.pdf), *acts)
    assert found["file as issued"][0] == HOLDS
    assert f"issued as {paper.number} on {MOMENT:%Y-%m-%d}" in found["file as issued"][1]
    assert found["signature"][0] == HOLDS


def test_offline_a_renewed_paper_holds_where_the_journal_names_it(paper, renewed, offline):
    found = offline(renewed, *BOTH)
    assert {name: verdict for name, (verdict, _) in found.items()} == {
        "file as issued": HOLDS, "signature": HOLDS,
    }  # fmt: skip
    assert f"issued as {paper.number}" in found["file as issued"][1]
    assert "with a later time stamp" in found["file as issued"][1]


def test_offline_a_renewed_paper_is_known_by_what_it_begins_with(paper, renewed, offline):
    found = offline(renewed, "issue_certificate")
    verdict, meaning = found["file as issued"]
    assert verdict == UNSAID
    assert f"begins with the very file that was issued as {paper.number}" in meaning
    assert found["signature"][0] == UNSAID


def test_offline_the_name_of_the_renewal_alone_proves_no_issue(renewed, offline):
    assert offline(renewed, "renew_paper")["file as issued"][0] == UNSAID


@pytest.mark.parametrize(("tamper", "verdict"), TAMPERED)
def test_offline_a_changed_renewed_paper_is_found_out(renewed, offline, tamper, verdict):
    assert offline(tamper(renewed), *BOTH)["file as issued"][0] == verdict
