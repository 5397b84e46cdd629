"""Plays a test of wires: a sample of a 7x19 is unlaid, and its wires are pulled one by one."""

from datetime import date
from decimal import Decimal

from certs.management.demo.bench import LABORATORY, sample
from certs.management.demo.stage import Stage
from certs.models import WireTest
from certs.rules.wire_strength import Wire
from certs.services.record_tests import record_wire_test
from inventory.models import TestingMachine
from inventory.services.machines import record_calibration, register_machine

# Wires of 5 mm / 15 by the geometry of equal wires; invented forces in mN of one outer strand.
WIRE_NM = 333_000
STRAND_MN = (
    171_200, 168_400, 173_100, 170_000, 166_300, 174_500, 169_700, 172_200, 170_600,
    167_100, 171_900, 175_300, 168_000, 170_400, 173_800, 169_200, 172_700,
)  # fmt: skip
# One wire fails its test and its retest: it counts once.
WEAK_MN, WEAK_AGAIN_MN = 149_300, 151_600


def pull_wires(stage: Stage) -> WireTest:
    """Unlay a sample of the 5 mm reel and record its wires, by method 2."""
    piece = sample(stage, "V-910", length_mm=600)
    return record_wire_test(
        method=WireTest.Method.AFTER_UNLAYING,
        sample=piece,
        machine=_machine(stage),
        tested_at=stage.calendar.moment(),
        wires=(
            *(_wire("outer strand", force_mn, 6) for force_mn in STRAND_MN),
            _wire("outer strand", WEAK_MN, 6, retest_force_mn=WEAK_AGAIN_MN),
            _wire("centre wires", 165_400, 6),
            _wire("core strand, outer wires", 170_500, 12),
            _wire("core strand, inner wires", 168_100, 6),
            _wire("core strand, centre wire", 166_000, 1),
        ),
        spinning_factors=[Decimal("0.88"), Decimal("0.87"), Decimal("0.89")],
        spinning_source="Type test report of the mill, three ropes (invented)",
        note="asked for by a customer who doubted the grade",
        by=stage.people["bench"],
        at=stage.calendar.moment(),
    )


def _wire(
    layer: str, force_mn: int, represents: int, *, retest_force_mn: int | None = None
) -> Wire:
    return Wire(
        layer=layer,
        diameter_nm=WIRE_NM,
        force_mn=force_mn,
        represents=represents,
        retest_force_mn=retest_force_mn,
    )


def _machine(stage: Stage) -> TestingMachine:
    """Register a small machine: the large ones are not verified down to the force of a wire."""
    machine = register_machine(
        name="Wire tensile machine",
        maker="Girder & Gauge (invented)",
        serial_number="WM-0031",
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )
    record_calibration(
        machine=machine,
        certificate_number="PD-26-031",
        laboratory=LABORATORY,
        accreditation_number="invented",
        calibrated_date=date(2026, 5, 4),
        due_date=date(2027, 5, 3),
        machine_class="1",
        range_from_n=20,
        range_to_n=10_000,
        # Finer than the whole newtons that a calibration is entered with.
        resolution_n=None,
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )
    stage.machines["wires"] = machine
    return machine
