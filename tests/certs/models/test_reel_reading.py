"""The constraint of a reading, tried from every side, whichever way a row is written."""

import pytest
from django.db import IntegrityError, transaction

from certs.models import ReelReading
from tests.factories import MOMENT, given_person, given_reel
from tests.inventory.models.ways import INSERTS, copy_of, refused_by

MASS = {"kind": "mass", "gross_g": 500_000, "tare_g": 40_000}
DRUM = {"kind": "drum", "barrel_mm": 300, "traverse_mm": 400, "wound_mm": 600}


def write(values):
    return ReelReading.objects.create(
        code="RR-00001",
        reel=given_reel(),
        ledger_mm=1_000_000,
        taken_at=MOMENT,
        taken_by=given_person(),
        **values,
    )


@pytest.mark.parametrize(
    "values",
    [
        pytest.param(MASS, id="by mass"),
        pytest.param(DRUM, id="by drum"),
        pytest.param(MASS | {"tare_g": 500_000}, id="an empty reel weighed"),
        pytest.param(DRUM | {"wound_mm": 300}, id="an empty barrel"),
    ],
)
def test_a_whole_reading_is_written(db, values):
    assert str(write(values)) == "reading RR-00001 of a reel"


@pytest.mark.parametrize(
    "values",
    [
        pytest.param(MASS | {"gross_g": None}, id="no gross mass"),
        pytest.param(MASS | {"tare_g": None}, id="no tare"),
        pytest.param(MASS | {"gross_g": 39_999}, id="lighter than empty"),
        pytest.param(MASS | {"barrel_mm": 300}, id="mass with a barrel"),
        pytest.param(MASS | {"traverse_mm": 300}, id="mass with a width"),
        pytest.param(MASS | {"wound_mm": 300}, id="mass with a winding"),
        pytest.param(DRUM | {"barrel_mm": None}, id="no barrel"),
        pytest.param(DRUM | {"traverse_mm": None}, id="no width"),
        pytest.param(DRUM | {"wound_mm": None}, id="no winding"),
        pytest.param(DRUM | {"barrel_mm": 0}, id="barrel of nothing"),
        pytest.param(DRUM | {"traverse_mm": 0}, id="no room between the flanges"),
        pytest.param(DRUM | {"wound_mm": 299}, id="winding within the barrel"),
        pytest.param(DRUM | {"gross_g": 500_000}, id="drum with a mass"),
        pytest.param(DRUM | {"tare_g": 0}, id="drum with a tare"),
        pytest.param(MASS | {"kind": "sand"}, id="no such kind"),
    ],
)
def test_half_a_reading_is_not(db, values):
    with pytest.raises(IntegrityError), transaction.atomic():
        write(values)
    assert not ReelReading.objects.exists()


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize("missing", ["barrel_mm", "traverse_mm", "wound_mm"])
def test_no_way_of_writing_leaves_a_dimension_out(db, insert, missing):
    # A comparison with nothing is neither true nor false, and alone it would let the row pass.
    row = write(DRUM)
    with refused_by("reel_reading_is_whole"):
        insert(copy_of(row, **{missing: None}))
    insert(copy_of(row))
