import pytest
from django.urls import reverse

from inventory.models import Assembly, FittingLot
from tests import factories as given

BUILD = "/assemblies/build/"
RECEIVE = "/fittings/receive/"


def eyes(number, piece, fittings):
    return {
        f"leg-{number}-piece": piece,
        f"leg-{number}-near_kind": "ferrule_secured_eye",
        f"leg-{number}-near_fittings": fittings,
        f"leg-{number}-far_kind": "ferrule_secured_eye",
        f"leg-{number}-far_fittings": fittings,
        f"leg-{number}-operator": "Press 1",
    }


def typed(*legs, kind="one_leg", **changed):
    data = {"kind": kind, "leg-TOTAL_FORMS": str(len(legs)), "leg-INITIAL_FORMS": "0"}
    for number, (piece, fittings) in enumerate(legs):
        data |= eyes(number, piece, fittings)
    return data | changed


def test_a_sling_is_built_of_a_piece_and_its_fittings(as_stores):
    piece, ferrules = given.given_piece(), given.given_fitting_lot()
    thimbles = given.given_fitting_lot(kind=FittingLot.Kind.THIMBLE)
    answer = as_stores.post(BUILD, typed((piece.code, f"{ferrules.code}, {thimbles.code} x 2")))
    assembly = Assembly.objects.get()
    assert answer["Location"] == reverse("inventory:assembly", args=[assembly.code])
    ends = assembly.piece_ties.get().terminations.all()
    assert {end.end for end in ends} == {"near", "far"}
    assert [use.quantity for use in thimbles.uses.all()] == [2, 2]
    assert [use.quantity for use in ferrules.uses.all()] == [1, 1]


def test_purpose_and_sizes_are_typed_in_mm_or_inches_and_shown(as_stores):
    piece, lot = given.given_piece(), given.given_fitting_lot()
    asked = typed(
        (piece.code, lot.code),
        convention="from_horizontal",
        market_date="2027-02-01",
        bend_mm="1 in",
        **{"leg-0-clear_mm": "900", "leg-0-near_eye_mm": "300 mm"},
    )
    answer = as_stores.post(BUILD, asked)
    assembly = Assembly.objects.get()
    tie = assembly.piece_ties.get()
    assert (assembly.bend_mm, tie.clear_mm) == (25, 900)
    assert tie.terminations.get(end="near").eye_mm == 300
    text = as_stores.get(answer["Location"]).text
    for words in ("angle from the horizontal", "2027-02-01", "25 mm", "900 mm", "300 mm all round"):
        assert words in text


def test_a_pin_in_inches_is_never_made_thicker(as_stores):
    # 5/8 in is 15.875 mm: too thin where 16 mm is asked for.
    piece, lot = given.given_piece(), given.given_fitting_lot()
    as_stores.post(BUILD, typed((piece.code, lot.code), bend_mm="5/8 in"))
    assert Assembly.objects.get().bend_mm == 15


def test_an_eye_is_on_an_end_that_is_made(as_stores):
    piece, lot = given.given_piece(), given.given_fitting_lot()
    legs = {"leg-0-far_kind": "", "leg-0-far_fittings": "", "leg-0-far_eye_mm": "300"}
    answer = as_stores.post(BUILD, typed((piece.code, lot.code), kind="rope_with_ends", **legs))
    assert "how the eye at this end is made" in answer.text
    assert not Assembly.objects.exists()


def test_a_sling_for_static_use_is_refused_at_its_field(as_stores):
    piece, lot = given.given_piece(), given.given_fitting_lot()
    answer = as_stores.post(BUILD, typed((piece.code, lot.code), use="static"))
    assert "made to lift" in answer.text
    assert not Assembly.objects.exists()


def test_a_two_leg_sling_takes_two_rows(as_stores):
    reel, lot = given.given_reel(), given.given_fitting_lot()
    legs = [(given.given_piece(reel=reel).code, lot.code) for _ in range(2)]
    as_stores.post(BUILD, typed(*legs, kind="two_leg"))
    assert Assembly.objects.get().piece_ties.count() == 2


def test_an_assembly_may_be_built_for_an_order(as_stores):
    line = given.given_order_line(length_m=10)
    piece = given.given_piece(length_m=10, order_line=line)
    lot = given.given_fitting_lot()
    as_stores.post(BUILD, typed((piece.code, lot.code), order_line=f"{line.order.code}.1"))
    assert Assembly.objects.get().order_line == line


@pytest.mark.parametrize(
    ("fittings", "changed", "words"),
    [
        pytest.param("F-00009", {}, "no lot of fittings", id="no such lot"),
        pytest.param("F-00001 x 60", {}, "Only 100 of lot", id="more than are left"),
        pytest.param("F-00001", {"kind": "two_leg"}, "takes 2 pieces", id="one leg too few"),
        pytest.param("F-00001", {"leg-0-far_kind": ""}, "Say how this end", id="open, fitted"),
        pytest.param(
            "", {"leg-0-far_kind": ""}, "terminated at both ends", id="a leg with an open end"
        ),
        pytest.param("F-00001", {"order_line": "O-00001.1"}, "no order line", id="no order"),
        pytest.param("F-00001", {"leg-0-piece": "P-00009"}, "no cut piece", id="no piece"),
    ],
)
def test_what_makes_no_assembly_is_refused_and_stays_typed(fittings, changed, words, as_stores):
    piece, _ = given.given_piece(), given.given_fitting_lot()
    answer = as_stores.post(
        BUILD, typed((piece.code, fittings), description="kept as typed", **changed)
    )
    assert words in answer.text
    assert "kept as typed" in answer.text
    assert not Assembly.objects.exists()


def test_a_piece_under_hold_is_not_built_in(as_stores):
    piece, lot = given.given_piece(), given.given_fitting_lot()
    hold = given.given_hold(piece)
    answer = as_stores.post(BUILD, typed((piece.code, lot.code)))
    assert f"under hold {hold.code}" in answer.text


def test_pieces_named_in_the_address_are_suggested_as_legs(as_stores):
    text = as_stores.get(f"{BUILD}?piece=P-00001&piece=P-00002").text
    assert 'value="P-00001"' in text
    assert 'value="P-00002"' in text


def test_one_more_leg_may_be_typed(as_stores):
    answer = as_stores.post(BUILD, typed(("P-00077", ""), again="more-leg"))
    assert "leg-1-piece" in answer.text
    assert 'value="P-00077"' in answer.text
    assert "error-summary" not in answer.text


def test_a_lot_of_fittings_is_received_with_its_heat_and_document(as_stores):
    maker = given.given_fitting_maker()
    heat = given.given_heat(mill=maker, number="F77")
    document = given.given_mill_document(mill=maker, number="FD-1")
    asked = {
        "kind": "ferrule",
        "maker": maker.code,
        "maker_lot_number": "L-9",
        "description": "ferrule 12",
        "for_diameter": "12",
        "quantity": "250",
        "rated_kg": "1600",
        "heat": "F77",
        "document": "FD-1",
    }
    answer = as_stores.post(RECEIVE, asked)
    lot = FittingLot.objects.get()
    assert answer["Location"] == reverse("inventory:fitting", args=[lot.code])
    assert (lot.heat, lot.document) == (heat, document)
    assert (lot.for_diameter_nm, lot.quantity, lot.rated_kg) == (12_000_000, 250, 1600)
    assert "1600 kg" in as_stores.get(answer["Location"]).text


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        pytest.param({"heat": "F9"}, "has no heat “F9” on record", id="no heat"),
        pytest.param({"document": "FD-9"}, "has no document “FD-9”", id="no document"),
        pytest.param({"for_diameter": "3/8"}, "in or mm", id="no unit"),
    ],
)
def test_a_lot_that_cannot_be_is_refused(changed, words, as_stores):
    asked = {
        "kind": "ferrule",
        "maker": given.given_fitting_maker().code,
        "maker_lot_number": "L-9",
        "description": "kept as typed",
        "quantity": "250",
    }
    answer = as_stores.post(RECEIVE, asked | changed)
    assert words in answer.text
    assert "kept as typed" in answer.text
    assert not FittingLot.objects.exists()


def test_the_page_of_an_assembly_names_heats_and_documents(as_auditor, record):
    text = as_auditor.get(reverse("inventory:assembly", args=[record.assembly.code])).text
    assert record.heat.number in text
    assert record.document.number in text
    assert record.lot.code in text
