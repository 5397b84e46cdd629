from datetime import date

from certs.queries.waiting import SHOWN, waiting
from inventory.services.holds import release_hold
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import (
    MOMENT,
    given_calibration,
    given_hold,
    given_machine,
    given_person,
    given_piece,
    given_reel,
)

ON = date(2026, 3, 2)


def test_a_draft_is_listed_with_what_it_lacks_and_an_issued_one_is_not(tables):
    ready = given_cut_length_draft()
    lacking = given_cut_length_draft(given_piece(reel=given_reel()))
    issued(given_cut_length_draft())
    found = waiting(on=ON).drafts
    assert [(draft.certificate, bool(draft.missing)) for draft in found.rows] == [
        (ready, False),
        (lacking, True),
    ]


def test_a_released_hold_waits_no_more(db):
    hold = given_hold(given_reel())
    assert waiting(on=ON).holds.rows == [hold]
    release_hold(hold=hold, reason="looked over", by=given_person(), at=MOMENT)
    assert waiting(on=ON).holds.count == 0


def test_machines_wait_sixty_days_before_their_calibration_ends(db):
    machine = given_machine(is_calibrated=False)
    given_calibration(machine, due_date=date(2026, 5, 1))
    given_calibration(machine, due_date=date(2026, 5, 2))
    assert waiting(on=ON).machines.count == 0
    assert [row.due_date for row in waiting(on=date(2026, 3, 3)).machines.rows] == [
        date(2026, 5, 2)
    ]


def test_one_never_calibrated_comes_first(db):
    late = given_machine(is_calibrated=False)
    given_calibration(late, due_date=date(2026, 2, 1))
    never = given_machine(is_calibrated=False)
    assert [row.machine for row in waiting(on=ON).machines.rows] == [never, late]


def test_a_long_list_is_cut_and_counted(db):
    for _ in range(SHOWN + 2):
        given_reel()
    reels = waiting(on=ON).reels
    assert (len(reels.rows), reels.more) == (SHOWN, 2)


def test_a_reel_with_a_basis_does_not_wait(tables):
    given_documented_reel()
    assert waiting(on=ON).reels.count == 0
