"""Machine support: ISO 7500-1 classes, ASTM E4-16 clause 10 (200 times the resolution)."""

import csv
from dataclasses import replace
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from certs.rules.machine import Calibration, MachineClass, class_row, support
from inventory.rules.refusal import Refusal

CLASSES = Path(__file__).parents[3] / "fixtures/specification/iso7500_classes.csv"

GOOD = Calibration(
    certificate_number="K-1",
    laboratory="Laboratory of the scenario",
    accreditation_number="C-0",
    calibrated_on=date(2026, 3, 1),
    due_on=date(2027, 2, 28),
    machine_class="1",
    range_from_n=2000,
    range_to_n=100_000,
    resolution_n=10,
)


def problems(*, on=date(2026, 6, 1), peak_n=50_000, needed="1", **changes):
    calibration = replace(GOOD, **changes)
    return support(calibration=calibration, tested_on=on, peak_n=peak_n, needed_class=needed)


@pytest.mark.parametrize(
    "facts",
    [
        pytest.param({}, id="all well"),
        pytest.param({"on": date(2026, 3, 1)}, id="on the day of calibration"),
        pytest.param({"on": date(2027, 2, 28)}, id="on the day it is due"),
        pytest.param({"peak_n": 2000}, id="at the foot of the range"),
        pytest.param({"peak_n": 100_000}, id="at the top of the range"),
        pytest.param({"machine_class": "0.5"}, id="better than needed"),
        pytest.param({"needed": "3"}, id="worse would do"),
        pytest.param({"peak_n": 2000, "resolution_n": None}, id="resolution not known"),
    ],
)
def test_a_machine_that_supports_the_test(facts):
    assert problems(**facts) == ()


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        pytest.param({"on": date(2026, 2, 28)}, "before the calibration K-1", id="too early"),
        pytest.param({"on": date(2027, 3, 1)}, "was due on 2027-02-28", id="too late"),
        pytest.param({"peak_n": 1999, "resolution_n": 1}, "outside the verified", id="too little"),
        pytest.param({"peak_n": 100_001}, "outside the verified range", id="too much"),
        pytest.param({"machine_class": "2"}, "class 1 or better", id="class too poor"),
        pytest.param({"peak_n": 2199, "resolution_n": 11}, "200 times", id="resolution too coarse"),
    ],
)
def test_what_takes_the_support_away(facts, words):
    (problem,) = problems(**facts)
    assert words in problem


def test_every_problem_is_told():
    found = problems(on=date(2028, 1, 1), peak_n=100, machine_class="3")
    assert len(found) == 4


def test_without_a_calibration_there_is_no_support():
    assert len(support(calibration=None, tested_on=date(2026, 6, 1), peak_n=1, needed_class="1"))


def test_a_class_that_is_none_is_refused():
    with pytest.raises(Refusal, match="no class of testing machine"):
        problems(needed="first")


def rows():
    with CLASSES.open(encoding="utf-8") as file:
        return [
            MachineClass(
                row["class"], Decimal(row["accuracy_q_pct"]), "ISO 7500-1", row["confidence"]
            )
            for row in csv.DictReader(file)
        ]


@pytest.mark.parametrize(("name", "q"), [("0.5", "0.5"), ("1", "1.0"), ("2", "2"), ("3", "3")])
def test_error_by_class(name, q):
    # ISO 7500-1: q of classes 0.5 and 1 read, of 2 and 3 from memory.
    assert class_row(name, rows=rows()).q_pct == Decimal(q)


def test_a_class_without_a_row_is_a_gap():
    with pytest.raises(Refusal, match="No value held for machine class 4"):
        class_row("4", rows=rows())
