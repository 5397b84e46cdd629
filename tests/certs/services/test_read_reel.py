"""Recording a reading: what must be whole, what is written down, and that the ledger stays."""

import json

import pytest

from certs.models import ReelReading
from certs.services.read_reel import CannotRead, read_reel
from inventory.models import JournalEntry
from inventory.queries.stock import reel_balance
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from tests.factories import MOMENT, given_person, given_piece, given_reel

pytestmark = pytest.mark.django_db
MASS = {"kind": "mass", "gross_g": 500_000, "tare_g": 40_000}
DRUM = {"kind": "drum", "barrel_mm": 300, "traverse_mm": 400, "wound_mm": 600}


def reading_of(reel, role=Role.STORES, **said):
    return read_reel(reel=reel, by=given_person(role), at=MOMENT, **said)


@pytest.mark.parametrize("said", [MASS, DRUM], ids=["mass", "drum"])
def test_a_reading_keeps_what_the_ledger_had(said):
    reel = given_reel(length_m=100)
    given_piece(reel=reel, length_m=30)
    reading = reading_of(reel, note=" after the stocktaking ", **said)
    assert (reading.code, reading.ledger_mm) == ("RR-00001", 70_000)
    assert reading.note == "after the stocktaking"
    assert reel_balance(reel).remaining_mm == 70_000


def test_the_journal_names_the_figures():
    reel = given_reel()
    reading_of(reel, **MASS)
    entry = JournalEntry.objects.order_by("number").last()
    detail = json.loads(entry.canonical)["detail"]
    assert (entry.act, entry.subject) == ("read_reel", reel.code)
    assert (detail["gross_g"], detail["tare_g"]) == (500_000, 40_000)
    assert "barrel_mm" not in detail


@pytest.mark.parametrize(
    ("said", "field"),
    [
        pytest.param({"kind": "sand"}, "kind", id="no such way"),
        pytest.param(MASS | {"gross_g": None}, "gross_g", id="not weighed"),
        pytest.param(MASS | {"tare_g": None}, "tare_g", id="no tare"),
        pytest.param(MASS | {"gross_g": 0}, "gross_g", id="weighs nothing"),
        pytest.param(MASS | {"tare_g": 600_000}, "gross_g", id="lighter than empty"),
        pytest.param(MASS | {"wound_mm": 600}, "wound_mm", id="a winding with masses"),
        pytest.param(DRUM | {"wound_mm": None}, "wound_mm", id="no winding"),
        pytest.param(DRUM | {"traverse_mm": 0}, "traverse_mm", id="no width"),
        pytest.param(DRUM | {"wound_mm": 299}, "wound_mm", id="winding within the barrel"),
        pytest.param(DRUM | {"gross_g": 1}, "gross_g", id="a mass with a winding"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(said, field):
    entries = JournalEntry.objects.count()
    with pytest.raises(CannotRead) as refusal:
        reading_of(given_reel(), **said)
    assert refusal.value.field == field
    assert not ReelReading.objects.exists()
    assert not JournalEntry.objects.filter(number__gt=entries, act="read_reel").exists()


@pytest.mark.parametrize("role", [Role.AUDITOR, Role.INSPECTION_REPRESENTATIVE])
def test_not_everyone_reads_reels(role):
    with pytest.raises(NotAllowed):
        reading_of(given_reel(), role, **MASS)
    assert not ReelReading.objects.exists()


def test_a_note_too_long_is_refused():
    with pytest.raises(CannotRead):
        reading_of(given_reel(), note="x" * 301, **MASS)
