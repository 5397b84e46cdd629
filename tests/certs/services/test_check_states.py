"""What the check of a genuine paper says of each thing that may happen after its issue."""

from datetime import timedelta

import pytest

from certs.rules.paper_advice import Now, State
from certs.rules.paper_check import CheckVerdict, Standing, Topic
from certs.services.check_paper import check_file
from certs.services.drafts import draft_correction, wording_of
from certs.services.withdraw import withdraw_certificate
from inventory.models import SigningKey
from inventory.queries.kept_files import read_file
from inventory.rules.roles import Role
from inventory.rules.signing import Purpose
from inventory.services.checkpoint import make_checkpoint
from inventory.services.holds import release_hold
from inventory.services.keyring import make_key, retire_key, revoke_key
from inventory.services.open_keys import forget_opened_keys
from tests.certs.papers import given_cut_length_draft, issued
from tests.factories import MOMENT, given_hold, given_person

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

LATER = MOMENT + timedelta(days=30)


@pytest.fixture(autouse=True)
def house(settings, tmp_path):
    """Keys that vouch for the house."""
    settings.PUBLIC_ORIGIN = "https://records.example"
    settings.KEYS_PASSPHRASE = "seven horses on a dry quay"
    settings.KEYS_ROOT = tmp_path / "keys"
    forget_opened_keys()
    for purpose in Purpose:
        given_key(purpose, at=MOMENT)


def given_key(purpose, *, at=LATER):
    by = given_person(Role.ADMINISTRATOR)
    return make_key(purpose, is_evaluation=False, by=by, at=at)


@pytest.fixture
def paper():
    return issued(given_cut_length_draft())


def checked(paper):
    answer = check_file(read_file(paper.pdf))
    found = {c.topic: c for c in answer.checks if c.verdict is not CheckVerdict.HOLDS}
    return answer, found


def withdrawn(paper):
    withdraw_certificate(certificate=paper, reason="Wrong reel", by=given_person(), at=LATER)
    return Now(State.WITHDRAWN), "was withdrawn", "Nothing vouches any more"


def superseded(paper):
    by = given_person()
    draft = draft_correction(
        certificate=paper, reason="wrong order", wording=wording_of(paper), by=by, at=LATER
    )
    new = issued(draft)
    assert checked(new)[0].standing is Standing.GOOD
    return Now(State.SUPERSEDED, new.number), f"Replaced by {new.number}", f"ask for {new.number}"


def held_piece(paper):
    hold = given_hold(paper.piece_ties.get().piece)
    return Now(State.IN_DOUBT), f"Under hold since 2026-03-02 ({hold.code})", "A doubt is not"


def held_reel(paper):
    hold = given_hold(paper.piece_ties.get().piece.reel)
    return Now(State.IN_DOUBT), hold.code, "A doubt is not"


def held_heat(paper):
    tie = paper.piece_ties.get().piece.reel.heat_ties.get()
    hold = given_hold(tie.heat)
    return Now(State.IN_DOUBT), hold.code, "A doubt is not"


def held_and_superseded(paper):
    now, _, _ = superseded(paper)
    hold = given_hold(paper.piece_ties.get().piece)
    return Now(State.IN_DOUBT, now.replaced_by), hold.code, "A doubt is not"


def held_and_withdrawn(paper):
    held_piece(paper)
    return withdrawn(paper)


@pytest.mark.parametrize(
    "happened",
    [
        pytest.param(withdrawn, id="withdrawn"),
        pytest.param(superseded, id="superseded"),
        pytest.param(held_piece, id="its piece held"),
        pytest.param(held_reel, id="its reel held"),
        pytest.param(held_heat, id="a heat in its reel held"),
        pytest.param(held_and_superseded, id="superseded, and its piece held"),
        pytest.param(held_and_withdrawn, id="withdrawn, and its piece held"),
    ],
)
def test_what_was_recorded_since_speaks_against_a_genuine_paper(paper, happened):
    now, reason, advice = happened(paper)
    answer, found = checked(paper)
    assert (answer.standing, set(found)) == (Standing.NOT_IN_FORCE, {Topic.STATUS})
    assert reason in found[Topic.STATUS].meaning
    assert answer.now == now
    assert advice in answer.advice


def test_of_a_paper_that_was_withdrawn_the_hold_is_told_as_well(paper):
    held_and_withdrawn(paper)
    meaning = checked(paper)[1][Topic.STATUS].meaning
    assert "was withdrawn" in meaning
    assert "Under hold" in meaning


def test_once_a_hold_is_released_the_paper_is_good_again(paper):
    hold = given_hold(paper.piece_ties.get().piece.reel)
    release_hold(hold=hold, reason="measured again", by=given_person(), at=LATER)
    answer, found = checked(paper)
    assert (answer.standing, found) == (Standing.GOOD, {})
    assert answer.now == Now(State.IN_FORCE)
    assert "wrong item" in answer.advice


def log_key():
    return SigningKey.objects.filter(purpose=Purpose.LOG).latest("id")


def test_a_retired_key_of_the_journal_goes_on_vouching_for_what_it_signed(paper):
    retire_key(log_key().name, by=given_person(Role.ADMINISTRATOR), at=LATER)
    assert checked(paper)[0].standing is Standing.GOOD


def test_a_revoked_key_of_the_journal_vouches_for_nothing_until_another_signs(paper):
    by = given_person(Role.ADMINISTRATOR)
    revoke_key(log_key().name, reason="Seen by a stranger", by=by, at=LATER)
    answer, found = checked(paper)
    assert (answer.standing, set(found)) == (Standing.NOT_PROVED, {Topic.JOURNAL})
    assert "was revoked" in found[Topic.JOURNAL].meaning
    given_key(Purpose.LOG)
    make_checkpoint(at=LATER)
    assert checked(paper)[0].standing is Standing.GOOD
