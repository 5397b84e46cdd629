"""The metre ledger and the one-way guards, tried through the ORM, in bulk and in plain SQL."""

import pytest

from inventory.models import CutPiece, JournalHead, NumberSeries, Reel, SigningKey
from inventory.models.ledger_guards import GUARDS
from inventory.services.cut import reverse_cut
from inventory.services.holds import release_hold
from inventory.services.rewind import rewind_reel
from tests.factories import MOMENT, given_delivery, given_hold, given_person, given_piece
from tests.inventory.models.ways import INSERTS, UPDATES, copy_of, refused_by

pytestmark = pytest.mark.django_db

# The reel of these tests has 1000 m; its piece is [100 m, 110 m).
M = 1000


@pytest.fixture
def piece(world):
    return given_piece(reel=world["spare_reel"], from_m=100)


OVERLAPS = {
    "the same metres": (100 * M, 110 * M),
    "over its near end": (99 * M, 100 * M + 1),
    "over its far end": (110 * M - 1, 120 * M),
    "inside it": (104 * M, 105 * M),
    "around it": (90 * M, 120 * M),
}


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(("from_mm", "to_mm"), list(OVERLAPS.values()), ids=OVERLAPS)
def test_metres_that_have_left_cannot_leave_again(piece, from_mm, to_mm, insert):
    with refused_by("cut_pieces_never_overlap"):
        insert(copy_of(piece, from_mm=from_mm, to_mm=to_mm))


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(
    ("from_mm", "to_mm"),
    [(90 * M, 100 * M), (110 * M, 120 * M), (999 * M, 1000 * M)],
    ids=["up to it", "from it on", "up to the end"],
)
def test_cuts_may_touch(piece, from_mm, to_mm, insert):
    insert(copy_of(piece, from_mm=from_mm, to_mm=to_mm))
    assert CutPiece.objects.filter(reel=piece.reel).count() == 2


def test_the_same_metres_of_another_reel_are_other_metres(world, piece):
    copy_of(piece, reel=world["Reel"]).save()


def test_two_of_one_batch_cannot_overlap(piece):
    first = copy_of(piece, from_mm=200 * M, to_mm=210 * M)
    second = copy_of(piece, from_mm=209 * M, to_mm=220 * M, code="Z-2")
    with refused_by("cut_pieces_never_overlap"):
        CutPiece.objects.bulk_create([first, second])
    assert CutPiece.objects.filter(reel=piece.reel).count() == 1


@pytest.mark.parametrize("insert", INSERTS)
def test_the_metres_of_a_reversed_cut_are_free(piece, insert):
    reverse_cut(cut=piece, reason="wrong reel", by=given_person(), at=MOMENT)
    insert(copy_of(piece, is_reversed=False))


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(("from_mm", "to_mm"), [(999 * M, 1000 * M + 1), (1000 * M, 1001 * M)])
def test_no_cut_passes_the_end(piece, from_mm, to_mm, insert):
    with refused_by("cut_piece_within_its_reel"):
        insert(copy_of(piece, from_mm=from_mm, to_mm=to_mm))


@pytest.mark.parametrize("change", UPDATES)
@pytest.mark.parametrize("use", ["assembly", "delivery", "reel"])
def test_a_cut_of_which_something_was_made_is_not_reversed(world, piece, use, change):
    used = {
        "assembly": lambda: world["CutPiece"],
        "delivery": lambda: given_delivery(piece).items.get().piece,
        "reel": lambda: a_rewound_stretch(piece.reel).wound_from,
    }[use]()
    with refused_by("cut_piece_in_use_is_not_reversed"):
        change(used, "is_reversed", True)  # noqa: FBT003 -- the column's value


def a_rewound_stretch(reel):
    return rewind_reel(reel=reel, from_mm=0, to_mm=50 * M, by=given_person(), at=MOMENT)


@pytest.mark.parametrize("change", UPDATES)
def test_a_reversal_stands(piece, change):
    reverse_cut(cut=piece, reason="wrong reel", by=given_person(), at=MOMENT)
    with refused_by("cut_reversal_stands"):
        change(piece, "is_reversed", False)  # noqa: FBT003 -- the column's value


WRONG_REELS = {
    "other metres than the cut's": {"origin_to_mm": 60 * M, "length_mm": 60 * M},
    "fewer metres than the cut's": {"origin_to_mm": 40 * M, "length_mm": 40 * M},
    "a return of what was never supplied": {"origin": Reel.Origin.RETURN},
}


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize("wrong", list(WRONG_REELS.values()), ids=WRONG_REELS)
def test_a_reel_is_wound_from_its_own_cut(world, piece, wrong, insert):
    wound = a_rewound_stretch(piece.reel)
    cut = copy_of(wound.wound_from, from_mm=200 * M, to_mm=250 * M)
    cut.save()
    place = {"origin_from_mm": 200 * M, "origin_to_mm": 250 * M}
    moved = {k: v + 200 * M if k == "origin_to_mm" else v for k, v in wrong.items()}
    row = copy_of(wound, code="Z-2", wound_from=cut, **(place | moved))
    with refused_by("reel_is_wound_from_its_cut"):
        insert(row)


@pytest.mark.parametrize("change", UPDATES)
def test_a_released_hold_is_never_changed(piece, change):
    hold = given_hold(piece)
    release_hold(hold=hold, reason="looked at", by=given_person(), at=MOMENT)
    with refused_by("hold_is_released_once"):
        change(hold, "release_reason", "another")


@pytest.mark.parametrize("change", UPDATES)
@pytest.mark.parametrize("step", [-1, 0, 2], ids=["back", "standing still", "leaping"])
def test_a_number_series_takes_the_next_number_only(piece, step, change):
    series = NumberSeries.objects.get(series="P")
    with refused_by("number_series_only_counts_up"):
        change(series, "last", series.last + step)


@pytest.mark.parametrize("change", UPDATES)
@pytest.mark.parametrize("step", [-1, 0, 2], ids=["back", "standing still", "leaping"])
def test_the_journal_grows_by_one(piece, step, change):
    head = JournalHead.objects.get()
    with refused_by("journal_head_only_moves_on"):
        change(head, "size", head.size + step)


@pytest.mark.parametrize("change", UPDATES)
def test_a_revoked_key_stays_revoked(world, change):
    key = world["SigningKey"]
    SigningKey.objects.filter(pk=key.pk).update(revoked_at=MOMENT, revoke_reason="stolen")
    with refused_by("signing_key_ends_once"):
        change(key, "revoke_reason", "found again")


TRIED_HERE = {
    "cut_pieces_never_overlap",
    "cut_piece_within_its_reel",
    "reel_is_wound_from_its_cut",
    "cut_piece_in_use_is_not_reversed",
    "cut_reversal_stands",
    "hold_is_released_once",
    "number_series_only_counts_up",
    "journal_head_only_moves_on",
    "signing_key_ends_once",
}


def test_every_guard_is_tried():
    kept = ("_is_kept", "_is_never_deleted", "_is_never_replaced", "_is_never_emptied")
    assert {g.name for g in GUARDS if not g.name.endswith(kept)} == TRIED_HERE
