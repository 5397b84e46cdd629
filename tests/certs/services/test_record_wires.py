"""Recording wires: what is frozen, what is refused, and that no certified force is touched."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from certs.models import WireResult, WireTest
from certs.queries.derivation import NoBasis, certified_force
from certs.services.record_tests import CannotRecord, record_wire_test
from certs.services.specify import name_basis
from inventory.models import JournalEntry
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed
from inventory.services.cut import reverse_cut
from tests.certs.claims import given_basis
from tests.certs.wires import (
    FACTORS,
    given_paper_test,
    given_wire_machine,
    given_wire_test,
    wires_of_7x7,
)
from tests.factories import (
    MOMENT,
    given_calibration,
    given_heat,
    given_machine,
    given_person,
    given_piece,
    given_reel,
    given_sample,
)

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]


@pytest.fixture
def reel():
    """12 mm 6x7-WSC 1770: 98.9 kN by K = 0.388 (EN 12385-4)."""
    reel = given_reel()
    given_basis(reel)
    return reel


def test_wires_and_verdict_are_frozen(reel):
    test = given_wire_test(reel=reel)
    wires = wires_of_7x7()
    total_n = 49 * wires[0].force_mn // 1000
    assert (test.code, test.method, test.reel) == ("WT-00001", "after_unlaying", reel)
    assert (test.required_n, test.sum_n, test.calculated_n) == (
        98_900,
        total_n,
        total_n * 92 // 100,
    )
    assert (test.spinning_factor, test.outcome) == ("0.92", "meets")
    assert (test.grade_outcome, test.supported_grade) == ("supports", "1860")
    assert test.machine_problems == []
    assert [row.position for row in test.wires.order_by("position")] == list(range(1, 9))
    assert WireResult.objects.get(position=8).represents == 7
    assert test.findings[0]["topic"] == "Calculated breaking force"


def test_a_calculated_force_that_falls_short_changes_no_certified_force(reel):
    before = certified_force(reel)
    test = given_wire_test(reel=reel, wires=wires_of_7x7(1500))
    assert (test.outcome, test.grade_outcome) == ("falls_short", "refutes")
    assert certified_force(reel) == before


def test_without_a_factor_nothing_is_calculated(reel):
    test = given_wire_test(reel=reel, factors=())
    assert (test.calculated_n, test.outcome, test.spinning_source) == (None, "cannot_say", "")


def test_the_maker_may_have_tested_before_laying(reel):
    test = given_paper_test(reel)
    assert (test.sample, test.machine, test.machine_problems) == (None, None, [])
    assert (test.outcome, test.spinning_factor) == ("meets", "0.88")
    assert "method 3" in test.findings[0]["derived"][0]["quantity"]


def test_wires_before_laying_are_older_than_the_reel(reel):
    assert given_paper_test(reel, tested_at=MOMENT - timedelta(days=90)).pk


def test_the_steel_of_the_heats_chooses_the_band():
    reel = given_reel(heats=[given_heat(analysis={})], designation="12 6x7-WSC 1570 U sZ")
    given_basis(reel)
    assert given_wire_test(reel=reel).findings[2]["given"][0]["value"] == "non-alloy"


@pytest.mark.parametrize(
    ("calibration", "words"),
    [
        pytest.param({"range_from_n": 5_000}, "outside the verified range", id="range too high"),
        pytest.param({"machine_class": "2"}, "class 1 or better", id="class too low"),
        pytest.param({"due_date": date(2026, 2, 1)}, "was due on", id="overdue"),
    ],
)
def test_a_machine_in_doubt_is_recorded_with_the_reason(reel, calibration, words):
    machine = given_machine(is_calibrated=False)
    given_calibration(machine, **({"range_from_n": 20, "resolution_n": None} | calibration))
    assert words in given_wire_test(reel=reel, machine=machine).machine_problems[0]


def test_the_journal_holds_the_test_and_no_name(reel):
    test = given_wire_test(reel=reel)
    entry = JournalEntry.objects.order_by("number").last()
    assert (entry.act, entry.subject) == ("record_wire_test", test.code)
    assert f'"sum_n":{test.sum_n}' in entry.canonical
    assert "Bench Hand" not in entry.canonical


@pytest.mark.parametrize(
    ("facts", "field", "words"),
    [
        pytest.param({"method": "by_eye"}, "method", "taken from the rope", id="no method"),
        pytest.param({"sample": None}, "sample", "Name the sample", id="nothing unlaid"),
        pytest.param({"machine": None}, "machine", "Name the machine", id="no machine"),
        pytest.param(
            {"spinning_factors": [Decimal(2)]}, "spinning_factors", "at most 1", id="gain"
        ),
        pytest.param({"spinning_source": ""}, "spinning_source", "Name the type test", id="source"),
        pytest.param({"wires": ()}, "wires", "Give the wires", id="no wires"),
        pytest.param({"wires": wires_of_7x7() * 2}, "wires", "at most 49", id="too many wires"),
        pytest.param(
            {"tested_at": MOMENT + timedelta(hours=1), "at": MOMENT},
            "tested_at",
            "lies in the future",
            id="tomorrow",
        ),
        pytest.param(
            {"tested_at": MOMENT - timedelta(days=2)}, "tested_at", "before the sample", id="before"
        ),
    ],
)
def test_what_cannot_be_is_refused(reel, facts, field, words):
    said = {
        "method": "after_unlaying",
        "sample": given_sample(reel=reel),
        "machine": given_wire_machine(),
        "tested_at": MOMENT,
        "wires": wires_of_7x7(),
        "spinning_factors": FACTORS,
        "spinning_source": "type test report 12 (invented)",
        "by": given_person(Role.TEST_BENCH),
        "at": MOMENT,
    }
    before = JournalEntry.objects.count()
    with pytest.raises(CannotRecord, match=words) as refused:
        record_wire_test(**(said | facts))
    assert refused.value.field == field
    assert not WireTest.objects.exists()
    assert JournalEntry.objects.count() == before


@pytest.mark.parametrize(
    ("facts", "field"),
    [
        pytest.param({"reel": None}, "reel", id="no reel"),
        pytest.param({"paper": " "}, "paper", id="no paper"),
    ],
)
def test_before_laying_a_reel_and_a_paper_are_named(reel, facts, field):
    with pytest.raises(CannotRecord) as refused:
        given_paper_test(**({"reel": reel} | facts))
    assert refused.value.field == field


def test_before_laying_there_is_no_sample(reel):
    with pytest.raises(CannotRecord, match="never in a sample"):
        given_paper_test(reel, sample=given_sample(reel=reel))


def test_a_sample_of_another_reel_is_refused(reel):
    with pytest.raises(CannotRecord, match="was not cut from"):
        given_wire_test(sample=given_sample(reel=reel), reel=given_reel())


def test_a_piece_for_supply_is_not_unlaid(reel):
    with pytest.raises(CannotRecord, match="was not cut as a test sample"):
        given_wire_test(sample=given_piece(reel=reel))


def test_a_reversed_sample_is_no_piece(reel):
    sample = given_sample(reel=reel)
    reverse_cut(cut=sample, reason="wrong reel typed", by=given_person(), at=MOMENT)
    sample.refresh_from_db()
    with pytest.raises(CannotRecord, match="there is no such piece"):
        given_wire_test(sample=sample)


def test_compacted_rope_is_broken_and_not_unlaid():
    reel = given_reel(designation="12 6xK36WS-IWRC 1770 B sZ", declared_force_n=90_000)
    name_basis(reel=reel, kind="declared", reason="as declared", by=given_person(), at=MOMENT)
    with pytest.raises(CannotRecord, match="Break a sample of the rope instead"):
        given_wire_test(reel=reel)


def test_without_a_basis_nothing_is_required_and_nothing_recorded():
    with pytest.raises(NoBasis):
        given_wire_test(reel=given_reel())
    assert not WireTest.objects.exists()


def test_only_who_tests_records(reel):
    with pytest.raises(NotAllowed):
        given_wire_test(reel=reel, by=given_person(Role.STORES))
