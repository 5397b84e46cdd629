import pytest

from inventory.models import Party
from inventory.services.parties import CannotRegisterParty, register_party
from tests.factories import MOMENT, given_mill
from tests.inventory.services.record import last_entry, refuses

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("kind", "code"), [("mill", "M-00001"), ("fitting_maker", "S-00001"), ("customer", "C-00001")]
)
def test_a_party_gets_a_code_of_its_kind(qa_officer, kind, code):
    party = register_party(kind=kind, name=" New ", address=" Street 1 ", by=qa_officer, at=MOMENT)
    assert (party.code, party.name, party.address) == (code, "New", "Street 1")
    assert last_entry() == ("register_party", code, {"kind": kind})


@pytest.mark.parametrize(
    ("kind", "name", "why"),
    [
        ("friend", "New", "no kind of party"),
        ("mill", " ", "Name"),
        ("mill", "n" * 121, "Name"),
        ("mill", "Invented Mill", "registered already"),
    ],
    ids=["unknown kind", "no name", "long name", "twice"],
)
def test_an_unfit_party_is_refused(qa_officer, kind, name, why):
    given_mill()
    with refuses(CannotRegisterParty, why):
        register_party(kind=kind, name=name, by=qa_officer, at=MOMENT)


def test_a_mill_may_also_be_a_customer(qa_officer):
    given_mill()
    register_party(kind="customer", name="Invented Mill", by=qa_officer, at=MOMENT)
    assert Party.objects.count() == 2
