"""What the database refuses of breaking-force tests, whichever way a row is written."""

import pytest

from tests.certs.claims import given_basis, given_breaking_test
from tests.factories import given_reel, given_sample
from tests.inventory.models.ways import INSERTS, UPDATES, copy_of, refused_by

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

FORCES = "breaking_test_has_forces"
PLACE = "breaking_test_break_place_is_whole"
ASKED = "breaking_test_free_length_asked_is_whole"


@pytest.fixture
def broken():
    reel = given_reel()
    given_basis(reel)
    return given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000)


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({}, id="clear of the grips"),
        pytest.param({"break_distance_mm": 0}, id="in the grip"),
        pytest.param({"is_break_place_known": False}, id="nobody wrote down where"),
        pytest.param(
            {"free_length_asked_mm": 900, "free_length_source": "order 7"}, id="a length asked for"
        ),
    ],
)
def test_a_whole_test_is_taken(broken, insert, changes):
    insert(copy_of(broken, **changes))


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(
    ("changes", "name"),
    [
        pytest.param({"peak_n": 0}, FORCES, id="no force"),
        pytest.param({"required_n": 0}, FORCES, id="nothing required"),
        pytest.param(
            {"is_break_place_known": False, "break_distance_mm": 40}, PLACE, id="known, and not"
        ),
        pytest.param(
            {"is_break_place_known": False, "break_distance_mm": 0},
            PLACE,
            id="in the grip, and not",
        ),
        pytest.param({"free_length_asked_mm": 900}, ASKED, id="a length of nobody"),
        pytest.param({"free_length_asked_mm": 0}, ASKED, id="no length of nobody"),
        pytest.param({"free_length_source": "order 7"}, ASKED, id="a source of nothing"),
    ],
)
def test_a_half_test_is_refused(broken, insert, changes, name):
    with refused_by(name):
        insert(copy_of(broken, **changes))


@pytest.mark.parametrize("change", UPDATES)
@pytest.mark.parametrize(
    ("column", "value"),
    [
        ("is_break_place_known", False),
        ("break_distance_mm", 40),
        ("free_length_asked_mm", 900),
        ("free_length_source", "order 7"),
    ],
)
def test_what_was_recorded_is_kept(broken, change, column, value):
    with refused_by("certs_breakingtest_is_kept"):
        change(broken, column, value)
