"""Invented tests of wires, recorded through the service; what is not said is the plainest thing.

The rope is 12 6x7-WSC 1770: 49 wires, taken here as equal, of 1.33 mm (d/9 by their geometry).
"""

from collections.abc import Sequence
from datetime import datetime
from decimal import Decimal

from certs.models import WireTest
from certs.rules.wire_strength import Wire
from certs.services.record_tests import record_wire_test
from inventory.models import CutPiece, Reel, TestingMachine
from inventory.rules.roles import Role
from tests.certs.rules.wires import wire
from tests.factories import MOMENT, given_calibration, given_machine, given_person, given_sample

FACTORS = (Decimal("0.93"), Decimal("0.92"), Decimal("0.94"))


def wires_of_7x7(strength: int = 1900) -> tuple[Wire, ...]:
    """One outer strand wire by wire, a centre wire and a core wire, for all 49."""
    return (
        *(wire(strength, mm=1.33, layer="outer strand", represents=6) for _ in range(6)),
        wire(strength, mm=1.33, layer="centre wires", represents=6),
        wire(strength, mm=1.33, layer="core strand", represents=7),
    )


def given_wire_machine() -> TestingMachine:
    machine = given_machine(name="Wire bench", is_calibrated=False)
    given_calibration(machine, range_from_n=20, range_to_n=10_000, resolution_n=None)
    return machine


def given_wire_test(
    *,
    sample: CutPiece | None = None,
    reel: Reel | None = None,
    machine: TestingMachine | None = None,
    wires: Sequence[Wire] | None = None,
    factors: Sequence[Decimal] = FACTORS,
    tested_at: datetime = MOMENT,
    **facts: object,
) -> WireTest:
    """Wires taken from a sample of the reel (method 2)."""
    said = {
        "method": "after_unlaying",
        "sample": sample or given_sample(reel=reel),
        "machine": machine or given_wire_machine(),
        "tested_at": tested_at,
        "wires": wires_of_7x7() if wires is None else wires,
        "spinning_factors": factors,
        "spinning_source": "type test report 12 (invented)" if factors else "",
        "reel": reel,
        "by": given_person(Role.TEST_BENCH),
        "at": max(MOMENT, tested_at),
    }
    return record_wire_test(**(said | facts))


def given_paper_test(reel: Reel, **facts: object) -> WireTest:
    """Wires tested by the maker before laying (method 3)."""
    said = {
        "method": "before_laying",
        "reel": reel,
        "sample": None,
        "machine": None,
        "paper": "Wire report 7 (invented)",
        "tested_at": MOMENT,
        "wires": wires_of_7x7(),
        "spinning_factors": (Decimal("0.88"),),
        "spinning_source": "wire report 7 (invented)",
        "by": given_person(Role.TEST_BENCH),
        "at": MOMENT,
    }
    return record_wire_test(**(said | facts))
