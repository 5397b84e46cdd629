"""Finds what a break shows: the greatest force and the loading, from the log or as it was typed.

It decides what governs and what is told of the log; the verdict is reached in `record_breaking`.
"""

from dataclasses import dataclass

from certs.rules.load_log import LoadLog
from certs.rules.load_trace import LoadFindings, analyse
from certs.rules.loading_rate import Loading, loading_of
from certs.services.test_evidence import CannotRecord, line_texts


@dataclass(frozen=True, slots=True)
class MeasuredBreak:
    """The greatest force in N, how it was reached if a log shows it, and what to tell of both."""

    peak_n: int
    loading: Loading | None
    notes: tuple[str, ...]


def measure_break(
    readings: LoadLog | None, *, peak_n: int | None, required_n: int
) -> MeasuredBreak:
    """Find the peak: the log governs over a typed one, and both are told when they differ.

    Raises CannotRecord where there is neither, or where the log shows no load.
    """
    if readings is None:
        if peak_n is None or peak_n <= 0:
            message = "Give the greatest force reached, or the log of the testing machine."
            raise CannotRecord(message, field="peak_n")
        return MeasuredBreak(peak_n=peak_n, loading=None, notes=())
    found = analyse(readings.samples, target_n=required_n)
    if found.peak_n <= 0:
        message = "This log shows no load above nought; hand in the log of this test."
        raise CannotRecord(message, field="log")
    return MeasuredBreak(
        peak_n=found.peak_n,
        loading=loading_of(readings.samples, required_n=required_n),
        notes=(*_peak_notes(found, peak_n), *line_texts(readings)),
    )


def _peak_notes(found: LoadFindings, typed_n: int | None) -> list[str]:
    notes = []
    if typed_n is not None and typed_n != found.peak_n:
        notes.append(f"{typed_n} N was typed; the log shows {found.peak_n} N, which is taken.")
    if found.raw_peak_n > found.peak_n:
        notes.append(
            f"A reading of {found.raw_peak_n} N stands alone and is taken as a disturbance."
        )
    return notes
