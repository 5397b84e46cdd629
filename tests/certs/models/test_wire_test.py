"""What the database refuses of wire tests, whichever way a row is written."""

import pytest

from certs.models import WireResult
from certs.services.reverse_test import reverse_test
from tests.certs.claims import given_basis, given_breaking_test
from tests.certs.wires import given_paper_test, given_wire_test
from tests.factories import MOMENT, given_person, given_reel, given_sample
from tests.inventory.models.ways import INSERTS, UPDATES, copy_of, refused_by, run

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


@pytest.fixture
def reel():
    reel = given_reel()
    given_basis(reel)
    return reel


@pytest.fixture
def tested(reel):
    return given_wire_test(reel=reel)


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(
    ("changes", "name"),
    [
        pytest.param({"required_n": 0}, "wire_test_has_a_force", id="nothing required"),
        pytest.param({"sample": None}, "wire_test_method_is_whole", id="unlaid without a sample"),
        pytest.param({"machine": None}, "wire_test_method_is_whole", id="unlaid without a machine"),
        pytest.param(
            {"method": "by_eye"}, "wire_test_method_is_whole", id="a method of no standard"
        ),
        pytest.param(
            {"method": "before_laying", "paper": "report"},
            "wire_test_method_is_whole",
            id="before laying, with a sample",
        ),
        pytest.param(
            {"method": "before_laying", "sample": None},
            "wire_test_method_is_whole",
            id="before laying, without a paper",
        ),
        pytest.param(
            {"sum_n": None}, "wire_test_calculated_force_has_its_factor", id="force without a sum"
        ),
        pytest.param(
            {"spinning_factor": ""},
            "wire_test_calculated_force_has_its_factor",
            id="force without a factor",
        ),
        pytest.param(
            {"spinning_source": ""},
            "wire_test_calculated_force_has_its_factor",
            id="force without a source",
        ),
    ],
)
def test_a_wire_test_is_whole(tested, insert, changes, name):
    with refused_by(name):
        insert(copy_of(tested, **changes))


@pytest.mark.parametrize("insert", INSERTS)
def test_a_whole_wire_test_is_taken(tested, reel, insert):
    insert(copy_of(tested))
    insert(copy_of(given_paper_test(reel), code="Z-2", calculated_n=None, spinning_factor=""))


@pytest.mark.parametrize("insert", INSERTS)
@pytest.mark.parametrize(
    ("changes", "name"),
    [
        pytest.param({"diameter_nm": 0}, "wire_result_is_a_wire", id="no size"),
        pytest.param({"represents": 0}, "wire_result_is_a_wire", id="stands for none"),
        pytest.param({"position": 1}, "wire_result_position_once", id="a place twice"),
    ],
)
def test_a_wire_is_whole(tested, insert, changes, name):
    row = WireResult.objects.get(test=tested, position=1)
    with refused_by(name):
        insert(copy_of(row, **({"position": 99} | changes)))


@pytest.mark.parametrize("change", UPDATES)
def test_a_wire_test_and_its_wires_are_kept(tested, change):
    with refused_by("certs_wiretest_is_kept"):
        change(tested, "calculated_n", 1)
    with refused_by("certs_wireresult_is_kept"):
        change(tested.wires.first(), "force_mn", 1)


def test_a_wire_test_and_its_wires_are_never_deleted(tested):
    with refused_by("certs_wireresult_is_never_deleted"):
        run("DELETE FROM certs_wireresult WHERE test_id = %s", [tested.pk])
    with refused_by("certs_wiretest_is_never_deleted"):
        run("DELETE FROM certs_wiretest WHERE id = %s", [tested.pk])


@pytest.mark.parametrize("insert", INSERTS)
def test_a_reversal_names_wires_or_a_break_and_not_both(tested, reel, insert):
    broken = given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000)
    row = reverse_test(test=tested, reason="typed twice", by=given_person(), at=MOMENT)
    another = given_wire_test(reel=reel)
    with refused_by("test_reversal_names_one_test"):
        insert(copy_of(row, wire_test=another, breaking_test=broken))
    with refused_by("test_reversal_names_one_test"):
        insert(copy_of(row, wire_test=None))


@pytest.mark.parametrize("change", UPDATES)
def test_a_sample_with_wire_tests_keeps_its_cut(tested, change):
    with refused_by("cut_piece_with_claims_is_not_reversed"):
        change(tested.sample, "is_reversed", 1)
