"""What a measurement would tell, with figures that are worked by hand or by JCGM 106."""

from datetime import date
from decimal import Decimal

import pytest

from certs.models.specification import MachineClass
from certs.queries.force_uncertainty import budget_of
from certs.queries.what_if import NEEDS_WHOLE, Asked, CannotAsk, Production, what_if
from inventory.models import JournalEntry
from tests.certs.deciding import given_rule, given_sure_machine
from tests.factories import given_machine

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("tables")]

DAY = date(2026, 6, 1)


def ask(**said):
    values = {"measured_n": 100_000, "required_n": 99_000}
    if "machine" not in said:
        values["machine"] = given_sure_machine()
    return what_if(Asked(**(values | said)), on=DAY)


def test_budget_decision_and_probability():
    found = ask()
    # By hand: u = 615.8 N, z = 1000 / 615.8 = 1.624, Phi = 0.9478.
    assert float(found.budget.combined) == pytest.approx(615.8, abs=0.2)
    assert float(found.decision.probability) == pytest.approx(0.9478, abs=0.0003)
    assert found.problems == ()
    assert (found.risk, found.capability) == (None, None)


def test_how_much_must_be_measured_to_be_sure():
    found = ask()
    # JCGM 106:2012, 8.3.3 with Table 1: limit / (1 - z u/y), u/y = 0.6158 %.
    expected = {"0.95": 100_013, "0.99": 100_439, "0.999": 100_920}
    for one in found.sure_forces:
        assert float(one.force_n) == pytest.approx(expected[str(one.probability)], abs=8)


def test_a_rule_with_a_band_asks_for_more():
    assert ask().decision.is_accepted
    assert not ask(decision_rule=given_rule()).decision.is_accepted


def test_risks_and_capability_of_a_production():
    found = ask(production=Production(mean_n=103_000, sd_n=2_000))
    # Cpk: (103 - 99) / (3 * 2).
    assert round(found.capability.cpk, 4) == Decimal("0.6667")
    assert found.capability.cp is None
    # Two deviations above the minimum: 97.72 % conform (tables of the normal distribution).
    assert found.risk.conforming == pytest.approx(0.97725, abs=1e-5)
    assert 0 < found.risk.consumers < 1 - found.risk.conforming


def test_a_guard_band_accepts_less_that_does_not_conform():
    production = Production(mean_n=103_000, sd_n=2_000)
    plain = ask(production=production).risk
    guarded = ask(production=production, decision_rule=given_rule()).risk
    assert guarded.consumers < plain.consumers
    assert guarded.producers > plain.producers


def test_with_two_limits_there_is_a_cp():
    found = ask(upper_n=111_000, production=Production(mean_n=105_000, sd_n=2_000))
    assert found.capability.cp == 1


def test_what_a_calibration_does_not_say_leaves_it_open():
    found = ask(machine=given_machine(), production=Production(mean_n=103_000, sd_n=2_000))
    assert not found.budget.is_complete
    assert found.decision.probability is None
    assert (found.sure_forces, found.risk) == ((), None)
    assert found.capability is not None
    assert NEEDS_WHOLE in found.problems


def test_a_machine_without_calibration_has_its_problem_told():
    found = ask(machine=given_machine(is_calibrated=False))
    assert found.calibration is None
    assert "No calibration" in found.problems[0]


@pytest.mark.parametrize(
    ("said", "field"),
    [
        pytest.param({"measured_n": 0}, "measured_n", id="nothing measured"),
        pytest.param({"required_n": 0}, "required_n", id="nothing required"),
        pytest.param({"production": Production(1, 0)}, "sd_n", id="no spread"),
    ],
)
def test_what_cannot_be_asked(said, field):
    with pytest.raises(CannotAsk, match="above nought") as refused:
        ask(**said)
    assert refused.value.field == field


def test_asking_records_nothing():
    machine = given_sure_machine()
    entries = JournalEntry.objects.count()
    ask(machine=machine)
    assert JournalEntry.objects.count() == entries


def test_without_a_table_of_classes_nothing_is_known():
    MachineClass.objects.all().delete()
    calibration = given_sure_machine().calibrations.get()
    assert budget_of(100_000, calibration=calibration) is None


def test_a_force_of_nought_has_no_budget():
    assert budget_of(0, calibration=None) is None
