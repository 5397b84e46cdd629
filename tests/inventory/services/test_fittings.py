import pytest

from inventory.rules.refusal import Refusal
from inventory.services.fittings import CannotReceiveFittings, receive_fitting_lot
from tests.factories import (
    MOMENT,
    given_customer,
    given_fitting_lot,
    given_fitting_maker,
    given_heat,
    given_mill_document,
)
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db


@pytest.fixture
def receive(stores_hand):
    def receive(**facts):
        asked = {
            "kind": "ferrule",
            "maker_lot_number": " 7 ",
            "description": "ferrule",
            "material": "aluminium alloy",
            "for_diameter": "10",
            "quantity": 50,
        }
        asked |= {"maker": given_fitting_maker()} if "maker" not in facts else {}
        return receive_fitting_lot(**(asked | facts), by=stores_hand, at=MOMENT)

    return receive


def test_a_lot_keeps_its_heat_and_document(receive):
    maker = given_fitting_maker()
    heat, document = given_heat(mill=maker), given_mill_document(mill=maker)
    lot = receive(heat=heat, document=document)
    assert (lot.code, lot.maker_lot_number, lot.quantity) == ("F-00001", "7", 50)
    assert (lot.heat, lot.document, lot.for_diameter_nm) == (heat, document, 10_000_000)
    act, subject, detail = last_entry()
    assert (act, subject) == ("receive_fittings", "F-00001")
    assert (detail["heat"], detail["document"]) == (heat.code, document.code)


def test_a_lot_keeps_the_load_that_its_maker_marks(receive):
    assert receive(kind="link", rated_kg=1600).rated_kg == 1600
    assert last_entry()[2]["rated_kg"] == 1600
    assert receive(maker_lot_number="8").rated_kg is None


@pytest.mark.parametrize(
    ("written", "nanometres"),
    [("", None), (" ", None), ("3/8 in", 9_525_000), ("12.5 mm", 12_500_000)],
    ids=["any rope", "blank", "inches", "half a millimetre"],
)
def test_a_fitting_is_for_a_diameter(receive, written, nanometres):
    assert receive(for_diameter=written).for_diameter_nm == nanometres


@pytest.mark.parametrize(
    ("facts", "why"),
    [
        ({"kind": "nail"}, "Kind"),
        ({"quantity": 0}, "how many"),
        ({"quantity": -1}, "how many"),
        ({"rated_kg": 0}, "marked on the fitting"),
        ({"maker_lot_number": "L-1"}, "fitting lot number once per maker"),
        ({"maker_lot_number": ""}, "Maker lot number"),
        ({"description": ""}, "Description"),
        ({"for_diameter": "thick"}, "not a diameter"),
    ],
    ids=["kind", "none", "less", "no load", "twice", "no number", "no words", "no diameter"],
)
def test_an_unfit_lot_is_refused(receive, facts, why):
    given_fitting_lot()
    with refuses(Refusal, why):
        receive(**facts)


def test_a_customer_makes_no_fittings(receive):
    customer = given_customer()
    with refuses(CannotReceiveFittings, "is a customer"):
        receive(maker=customer)


def test_the_document_is_of_the_same_maker(receive):
    given_fitting_maker()
    document = given_mill_document()
    with refuses(CannotReceiveFittings, "another maker"):
        receive(document=document)
