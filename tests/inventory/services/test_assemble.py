from datetime import date

import pytest

from inventory.models import Assembly, FittingUse
from inventory.rules.refusal import Refusal
from inventory.services.assemble import (
    CannotAssemble,
    FittingAsked,
    PieceAsked,
    TerminationAsked,
    build_assembly,
)
from inventory.services.cut import reverse_cut
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_hold,
    given_order_line,
    given_piece,
    given_reel,
    given_sample,
    two_eyes,
)
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db


@pytest.fixture
def build(stores_hand):
    def build(*pieces, kind="one_leg", **facts):
        return build_assembly(kind=kind, pieces=pieces, **facts, by=stores_hand, at=MOMENT)

    return build


@pytest.fixture
def lot():
    return given_fitting_lot(quantity=10)


@pytest.fixture
def piece():
    return given_piece()


def test_an_assembly_keeps_pieces_ends_and_lots(build, piece, lot):
    thimble = given_fitting_lot(kind="thimble", for_diameter="")
    near = [FittingAsked(lot), FittingAsked(thimble, 2)]
    ends = [
        TerminationAsked("near", "ferrule_secured_eye", near, operator=" Press 1 ", note=" a "),
        TerminationAsked("far", "hand_splice"),
    ]
    made = build(PieceAsked(piece, ends), description=" lifting sling ")
    assert (made.code, made.kind, made.description) == ("A-00001", "one_leg", "lifting sling")
    tie = made.piece_ties.get()
    assert (tie.piece, tie.position) == (piece, 1)
    near_end = tie.terminations.get(end="near")
    assert (near_end.kind, near_end.operator, near_end.note) == (
        "ferrule_secured_eye",
        "Press 1",
        "a",
    )
    assert dict(near_end.fittings.values_list("lot__code", "quantity")) == {
        lot.code: 1,
        thimble.code: 2,
    }
    assert not tie.terminations.get(end="far").fittings.exists()
    act, subject, detail = last_entry()
    assert (act, subject, detail["kind"]) == ("build_assembly", "A-00001", "one_leg")
    assert detail["pieces"][0]["piece"] == piece.code


@pytest.mark.parametrize(("kind", "legs"), [("two_leg", 2), ("three_leg", 3), ("four_leg", 4)])
def test_a_sling_has_its_legs_in_order(build, lot, kind, legs):
    reel = given_reel()
    pieces = [given_piece(reel=reel) for _ in range(legs)]
    made = build(*(two_eyes(p, lot) for p in reversed(pieces)), kind=kind)
    tied = made.piece_ties.order_by("position").values_list("piece_id", flat=True)
    assert list(tied) == [p.pk for p in reversed(pieces)]


def test_a_wrong_number_of_legs_is_refused(build, piece, lot):
    with refuses(Refusal, "takes 2 pieces"):
        build(two_eyes(piece, lot), kind="two_leg")


def test_one_piece_is_one_leg(build, piece, lot):
    with refuses(CannotAssemble, "named twice"):
        build(two_eyes(piece, lot), two_eyes(piece, lot), kind="two_leg")


def test_an_end_is_terminated_once(build, piece):
    ends = [TerminationAsked(end, "hand_splice") for end in ("near", "far", "far")]
    with refuses(CannotAssemble, "An end of piece P-00001 is named twice"):
        build(PieceAsked(piece, ends))


def test_legs_are_of_one_rope(build, lot):
    other = given_piece(reel=given_reel(designation="12 6x7-FC 1770 B sZ"))
    piece = given_piece()
    with refuses(CannotAssemble, "different ropes"):
        build(two_eyes(piece, lot), two_eyes(other, lot), kind="two_leg")


@pytest.mark.parametrize(
    ("facts", "why"), [({"kind": "knot"}, "Kind"), ({"operator": "x" * 81}, "Operator")]
)
def test_an_unfit_termination_is_refused_whole(build, piece, facts, why):
    far = {"end": "far", "kind": "hand_splice"} | facts
    with refuses(CannotAssemble, why):
        build(PieceAsked(piece, [TerminationAsked("near", "hand_splice"), TerminationAsked(**far)]))


USED = {
    "delivered": (given_delivery, "left with delivery V-00001"),
    "built in": (lambda p: given_assembly(pieces=[p]), "part of assembly A-00001"),
    "under hold": (given_hold, "P-00001 is under hold X-00001"),
    "of a held reel": (lambda p: given_hold(p.reel), "P-00001 is under hold X-00001"),
}


@pytest.mark.parametrize(("use", "why"), list(USED.values()), ids=USED)
def test_a_piece_that_is_not_free_is_refused(build, piece, lot, use, why):
    use(piece)
    with refuses(CannotAssemble, why):
        build(two_eyes(piece, lot))


def test_a_sample_is_not_built_in(build, lot):
    sample = given_sample()
    with refuses(CannotAssemble, "it was cut test sample, not for supply"):
        build(two_eyes(sample, lot))


def test_a_reversed_cut_is_not_built_in(build, piece, lot, qa_officer):
    reverse_cut(cut=piece, reason="slip", by=qa_officer, at=MOMENT)
    with refuses(CannotAssemble, "was reversed"):
        build(two_eyes(piece, lot))


@pytest.mark.parametrize("kind", ["ferrule_secured_eye", "socket", "swage_terminal"])
def test_a_fitting_of_no_lot_is_refused(build, piece, kind):
    ends = [TerminationAsked("near", "hand_splice"), TerminationAsked("far", kind)]
    with refuses(CannotAssemble, "Name the lot of the fitting at the far end of P-00001"):
        build(PieceAsked(piece, ends))


def test_a_lot_is_used_up(build, stores_hand):
    lot, reel = given_fitting_lot(quantity=3), given_reel()
    build(two_eyes(given_piece(reel=reel), lot))
    piece = given_piece(reel=reel)
    with refuses(CannotAssemble, f"Only 1 of lot {lot.code} are left; 2 are asked for"):
        build(two_eyes(piece, lot))
    assert FittingUse.objects.count() == 2


def test_the_last_of_a_lot_is_used(build, piece):
    assert build(two_eyes(piece, given_fitting_lot(quantity=2))).pk


def test_a_lot_is_counted_over_all_legs(build):
    reel, lot = given_reel(), given_fitting_lot(quantity=3)
    legs = [two_eyes(given_piece(reel=reel), lot) for _ in range(2)]
    with refuses(CannotAssemble, "Only 3 of lot"):
        build(*legs, kind="two_leg")


@pytest.mark.parametrize("quantity", [0, -1])
def test_no_fitting_is_no_use(build, piece, lot, quantity):
    ends = [TerminationAsked("near", "socket", [FittingAsked(lot, quantity)])]
    with refuses(CannotAssemble, "how many fittings"):
        build(PieceAsked(piece, ends), kind="rope_with_ends")


def test_a_fitting_for_another_diameter_is_refused(build, piece):
    wide = given_fitting_lot(for_diameter="13")
    with refuses(CannotAssemble, "another diameter"):
        build(two_eyes(piece, wide))


def test_a_fitting_for_any_diameter_fits(build, piece):
    assert build(two_eyes(piece, given_fitting_lot(for_diameter=""))).pk


@pytest.mark.parametrize("held", ["lot", "heat"])
def test_a_held_lot_is_refused(build, piece, held):
    heat = given_heat()
    lot = given_fitting_lot(heat=heat)
    given_hold(lot if held == "lot" else heat)
    with refuses(CannotAssemble, "Lot F-00001 is under hold X-00001"):
        build(two_eyes(piece, lot))


def test_an_assembly_for_an_order_is_of_its_rope(build, piece, lot):
    other = given_order_line(designation="12 6x7-FC 1770 B sZ")
    with refuses(CannotAssemble, "The order asks for 12 6x7-FC"):
        build(two_eyes(piece, lot), order_line=other)
    line = given_order_line()
    assert build(two_eyes(piece, lot), order_line=line).order_line == line


def test_the_test_bench_builds_too(bench_hand, piece, lot):
    build_assembly(kind="one_leg", pieces=[two_eyes(piece, lot)], by=bench_hand, at=MOMENT)
    assert Assembly.objects.get().built_by == bench_hand


def test_what_it_is_for_is_kept_with_its_sizes(build, piece, lot):
    ends = [
        TerminationAsked("near", "ferrule_secured_eye", [FittingAsked(lot)], eye_mm=300),
        TerminationAsked("far", "hand_splice"),
    ]
    made = build(
        PieceAsked(piece, ends, clear_mm=900),
        use="lifting",
        convention="from_horizontal",
        market_date=date(2027, 1, 20),
        bend_mm=24,
    )
    made.refresh_from_db()
    assert (made.use, made.convention) == ("lifting", "from_horizontal")
    assert (made.market_date, made.bend_mm) == (date(2027, 1, 20), 24)
    tie = made.piece_ties.get()
    assert tie.clear_mm == 900
    assert [end.eye_mm for end in tie.terminations.order_by("-end")] == [300, None]
    _, _, detail = last_entry()
    assert (detail["convention"], detail["market_date"]) == ("from_horizontal", "2027-01-20")
    assert detail["pieces"][0]["clear_mm"] == 900


def test_what_nobody_said_is_lifting_by_the_european_convention(build, piece, lot):
    made = build(two_eyes(piece, lot))
    assert (made.use, made.convention) == ("lifting", "from_vertical")
    assert (made.market_date, made.bend_mm) == (None, None)


@pytest.mark.parametrize(
    ("facts", "why"),
    [
        ({"use": "static"}, "made to lift"),
        ({"use": "towing"}, "Use"),
        ({"convention": "from_the_side"}, "Convention"),
        ({"bend_mm": 0}, "thickness"),
    ],
)
def test_a_purpose_that_cannot_be_is_refused(build, piece, lot, facts, why):
    with refuses(Refusal, why):
        build(two_eyes(piece, lot), **facts)


def test_more_clear_rope_than_the_piece_has_is_refused(build, piece, lot):
    eyes = two_eyes(piece, lot)
    with refuses(Refusal, "clear rope"):
        build(PieceAsked(piece, eyes.terminations, clear_mm=piece.length_mm + 1))
