"""From a failed method 2 to method 1 to de-rating: ISO 10425:2003 5.1.4, as read."""

from datetime import UTC, datetime, timedelta

import pytest

from certs.rules.force_route import ActualForce, CalculatedForce, Standing, route

DAY = datetime(2026, 3, 2, tzinfo=UTC)


def calculated(outcome="falls_short", *, day=1, method=2, counts=True):
    return CalculatedForce(
        test=f"WT-{day}",
        method=method,
        outcome=outcome,
        tested_at=DAY + timedelta(days=day),
        required_n=84_600,
        calculated_n=None if outcome == "cannot_say" else 80_000,
        counts=counts,
    )


def broken(*, is_met=True, day=2):
    return ActualForce(f"BT-{day}", is_met, DAY + timedelta(days=day), 85_000)


@pytest.mark.parametrize(
    ("wires", "breaks", "standing"),
    [
        pytest.param([], [], Standing.NOTHING, id="nothing was tested"),
        pytest.param([calculated("meets")], [], Standing.CALCULATED, id="method 2 meets"),
        pytest.param([calculated("meets", counts=False)], [], Standing.OPEN, id="machine in doubt"),
        pytest.param([calculated("cannot_say")], [], Standing.OPEN, id="no factor known"),
        pytest.param([calculated()], [], Standing.BREAK_A_SAMPLE, id="method 2 falls short"),
        pytest.param(
            [calculated(counts=False)], [], Standing.BREAK_A_SAMPLE, id="short, in doubt as well"
        ),
        pytest.param([calculated(method=3)], [], Standing.BREAK_A_SAMPLE, id="method 3 too"),
        pytest.param(
            [calculated(), calculated("meets", day=3)],
            [],
            Standing.BREAK_A_SAMPLE,
            id="other wires do not settle it",
        ),
        pytest.param([calculated()], [broken()], Standing.PROVED, id="a later break settles it"),
        pytest.param(
            [calculated(day=3)], [broken()], Standing.BREAK_A_SAMPLE, id="an earlier one does not"
        ),
        pytest.param(
            [calculated()], [broken(is_met=False)], Standing.DERATED, id="and de-rates if it fails"
        ),
        pytest.param(
            [], [broken(), broken(is_met=False, day=1)], Standing.DERATED, id="a failure stays"
        ),
        pytest.param([], [broken()], Standing.PROVED, id="a break alone"),
    ],
)
def test_where_a_rope_stands(wires, breaks, standing):
    found = route(wires, breaks)
    assert found.standing is standing
    assert found.blocks is (standing is Standing.BREAK_A_SAMPLE)
    assert len(found.done) == len(wires) + len(breaks)
    assert found.next_step


def test_every_method_keeps_its_number_and_its_doubt():
    found = route([calculated(method=3), calculated("cannot_say", counts=False)], [broken()])
    assert found.done == (
        "WT-1, method 3: 80 kN calculated falls short of 84.6 kN.",
        "WT-1, method 2: no calculated force.",
        "BT-2, method 1: met at 85 kN.",
    )
    doubted = route([calculated("meets", counts=False)])
    assert doubted.done[0].endswith("meets 84.6 kN. Its machine is in doubt.")


def test_the_next_step_names_the_tests_that_fell_short():
    found = route([calculated(day=1), calculated(day=4)], [broken()])
    assert "WT-4 falls short" in found.next_step
    assert "WT-1" not in found.next_step
    assert found.as_json()["standing"] == "break_a_sample"
