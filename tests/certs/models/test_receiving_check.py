"""What the database refuses about receiving checks, whichever way a row is written."""

import pytest
from django.db import IntegrityError, models, transaction

from certs.models import ReceivingCheck
from certs.models.receiving_check import READINGS
from tests.certs.checks import EN, given_bad_check, given_check, readings
from tests.factories import given_reel
from tests.inventory.models.ways import INSERTS, UPDATES, copy_of, refused_by, run

pytestmark = pytest.mark.usefixtures("tables")

WHOLE = "receiving_check_readings_are_whole"
WEIGHED = "receiving_check_weighing_is_whole"


@pytest.fixture
def check(db):
    return given_check(
        given_reel(),
        standard=EN,
        readings=readings("12.1"),
        weighed_length_mm=1_000,
        weighed_mass_g=553,
    )


@pytest.mark.parametrize(
    ("changes", "name"),
    [
        *(pytest.param({one: None}, WHOLE, id=f"no {one}") for one in READINGS),
        pytest.param(dict.fromkeys(READINGS[1:]), WHOLE, id="one reading alone"),
        pytest.param({"weighed_mass_g": None}, WEIGHED, id="a length without its mass"),
        pytest.param({"weighed_length_mm": None}, WEIGHED, id="a mass without its length"),
        pytest.param(
            {"outcome": "disagrees"}, "receiving_check_disagreement_holds", id="nothing held"
        ),
    ],
)
@pytest.mark.parametrize("insert", INSERTS)
def test_a_check_is_whole(check, insert, changes, name):
    with refused_by(name):
        insert(copy_of(check, **changes))


@pytest.mark.parametrize("insert", INSERTS)
def test_what_was_not_measured_may_be_left_out(check, insert):
    insert(copy_of(check, **dict.fromkeys(READINGS), weighed_mass_g=None, weighed_length_mm=None))
    assert ReceivingCheck.objects.count() == 2


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize("shared", ["code", "hold"])
def test_a_code_and_a_hold_belong_to_one_check(check, insert, shared):
    held = given_bad_check(check.reel)
    twin = copy_of(check, **{shared: getattr(held, shared)})
    with pytest.raises(IntegrityError), transaction.atomic():
        insert(twin)
    assert ReceivingCheck.objects.count() == 2


@pytest.mark.parametrize("update", UPDATES)
@pytest.mark.parametrize(
    ("column", "value"),
    [("outcome", "agrees"), ("findings", []), ("place1_a_nm", 12_000_000), ("note", "other")],
)
def test_a_check_is_never_changed(check, update, column, value):
    with refused_by("certs_receivingcheck_is_kept"):
        update(check, column, value)


def test_a_check_is_never_deleted(check):
    with refused_by("certs_receivingcheck_is_never_deleted"):
        run("DELETE FROM certs_receivingcheck WHERE id = %s", [check.pk])


def test_a_reel_with_a_check_is_protected(check):
    with pytest.raises(models.ProtectedError):
        check.reel.delete()
