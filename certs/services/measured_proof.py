"""Finds what a proof load shows: its force log, the hold it rests on, and what stayed of it.

What is asked for and what the verdict is, is decided in `record_proof`.
"""

from dataclasses import dataclass
from decimal import Decimal

from certs.rules.load_log import LoadLog
from certs.rules.load_plateau import Plateau
from certs.rules.load_trace import LoadFindings, analyse
from certs.rules.permanent_extension import (
    PermanentExtension,
    permanent_extension,
    read_limit_pct,
)
from certs.rules.proof_requirement import Requirement
from certs.rules.proof_test import relied_on
from certs.services.test_evidence import MOST_LINES_TOLD, CannotRecord, read_test_log
from inventory.rules.canonical import JsonValue
from inventory.rules.refusal import Refusal


@dataclass(frozen=True, slots=True)
class Gauge:
    """One length in μm, unloaded before and after; the limit in per cent as written, if named."""

    before_um: int | None = None
    after_um: int | None = None
    limit_pct: str = ""


@dataclass(frozen=True, slots=True)
class Hold:
    """The hold relied on, as it is kept: whole milliseconds and newtons; all None for none."""

    from_ms: int | None = None
    to_ms: int | None = None
    lowest_n: int | None = None


@dataclass(frozen=True, slots=True)
class MeasuredProof:
    """What the log shows, and the hold that the test rests on."""

    found: LoadFindings
    plateau: Plateau | None

    @property
    def hold(self) -> Hold:
        """Return the hold as it is kept."""
        if self.plateau is None:
            return Hold()
        return Hold(
            round(self.plateau.start_s * 1000),
            round(self.plateau.end_s * 1000),
            max(self.plateau.lowest_n, 0),
        )

    @property
    def forces_n(self) -> list[int]:
        """Return what must lie in the verified range: the peak, and the lowest of the hold."""
        return [self.found.peak_n, *([self.plateau.lowest_n] if self.plateau else [])]


def read_proof_log(log: bytes, *, force_unit: str | None, time_unit: str | None) -> LoadLog:
    """Read the log that a proof load cannot do without. Raises CannotRecord, UnreadableLog."""
    readings = read_test_log(log, force_unit=force_unit, time_unit=time_unit)
    if readings is None:
        message = "A proof-load test needs the force log of the testing machine."
        raise CannotRecord(message, field="log")
    if readings.samples[0].time_s < 0:
        message = "The clock of this log begins below nought; have the machine write from 0 on."
        raise CannotRecord(message, field="log")
    return readings


def measure_proof(readings: LoadLog, requirement: Requirement) -> MeasuredProof:
    """Find peak and hold. Raises CannotRecord where the log shows no load."""
    found = analyse(readings.samples, target_n=requirement.least_indicated_n)
    if found.peak_n <= 0:
        message = "This log shows no load above nought; hand in the log of this test."
        raise CannotRecord(message, field="log")
    return MeasuredProof(found, relied_on(requirement, found))


def extension_of(gauge: Gauge) -> PermanentExtension | None:
    """Give what stayed of the load; None where nothing was measured.

    Raises CannotRecord for half a measurement, or a limit without one.
    """
    try:
        limit_pct = read_limit_pct(gauge.limit_pct)
        return _extension(gauge, limit_pct)
    except CannotRecord:
        raise
    except Refusal as refusal:
        raise CannotRecord(refusal.message, field=refusal.field) from refusal


def line_problems(readings: LoadLog) -> list[dict[str, JsonValue]]:
    """Tell the lines that were not used, the first fifty one by one."""
    told: list[dict[str, JsonValue]] = [
        {"line": problem.line, "text": problem.text, "reason": problem.reason}
        for problem in readings.problems[:MOST_LINES_TOLD]
    ]
    more = readings.problems[MOST_LINES_TOLD:]
    if more:
        reason = f"{len(more)} more lines from here on were not used"
        told.append({"line": more[0].line, "text": "", "reason": reason})
    return told


def _extension(gauge: Gauge, limit_pct: Decimal | None) -> PermanentExtension | None:
    if gauge.before_um is None and gauge.after_um is None and limit_pct is None:
        return None
    if gauge.before_um is None or gauge.after_um is None:
        message = "Give the gauge length both before and after the load, or neither and no limit."
        field = "gauge_before_um" if gauge.before_um is None else "gauge_after_um"
        raise CannotRecord(message, field=field)
    return permanent_extension(
        before_um=gauge.before_um, after_um=gauge.after_um, limit_pct=limit_pct
    )
