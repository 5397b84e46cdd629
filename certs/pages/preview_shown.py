"""Decides how a test is shown before it is recorded: the curve, what it says, what is missing.

Nothing is kept. What the recording service would find is found by the same rules; which of them,
each kind of test says itself (`proof_preview`, `breaking_preview`).
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace

from django.core.files.uploadedfile import UploadedFile

from certs.documents.curve_marks import CurveMarks
from certs.documents.curve_points import where_force_was
from certs.pages.force_figure import ForceFigure, figure_from
from certs.pages.forms.tests import TestForm
from certs.queries.test_facts import curve_of
from certs.rules.load_log import LoadLog, UnreadableLog
from certs.rules.log_rows import LineProblem
from inventory.pages.facts import Fact
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_kn


@dataclass(frozen=True, slots=True)
class Missing:
    """What keeps the test from being recorded: the field, why, and where it stands."""

    label: str
    text: str
    anchor: str


@dataclass(frozen=True, slots=True)
class Preview:
    """What `templates/certs/_test_preview.html` shows.

    `word` is the outcome as it would be recorded, empty where it cannot be told yet; `said` is read
    aloud. `comment` is the field where a remark belongs.
    """

    said: str
    comment: str
    problem: str = ""
    lines: tuple[LineProblem, ...] = ()
    figure: ForceFigure | None = None
    word: str = ""
    shape: str = ""
    facts: tuple[Fact, ...] = ()
    reasons: tuple[str, ...] = ()
    machine_problems: tuple[str, ...] = ()
    missing: tuple[Missing, ...] = ()


def log_given(form: TestForm) -> bytes | None:
    """Return the log that was chosen; None where there is none."""
    log = form.cleaned_data.get("log")
    return log.read() if isinstance(log, UploadedFile) else None


def units_of(form: TestForm) -> dict[str, str | None]:
    """Return the units that are given for the log, by the names of the service."""
    return {
        "force_unit": form.cleaned_data.get("log_force_unit") or None,
        "time_unit": form.cleaned_data.get("log_time_unit") or None,
    }


def refused(refusal: Refusal, *, comment: str) -> Preview:
    """Show why a log cannot be relied on, and the lines at fault."""
    lines = refusal.problems if isinstance(refusal, UnreadableLog) else ()
    return Preview(said=refusal.message, comment=comment, problem=refusal.message, lines=lines)


def curve_shown(readings: LoadLog, marks: CurveMarks, *, peak_n: int) -> ForceFigure:
    """Draw a log with its marks, and the peak in N where the curve shows it."""
    curve = curve_of(readings)
    marked = replace(marks, peak=where_force_was(curve, force_n=peak_n))
    return figure_from(curve, marked, title="Force over time, not recorded yet")


def log_facts(readings: LoadLog, *, peak_n: int) -> Iterator[Fact]:
    """Tell the peak, and what the file holds."""
    yield Fact("Peak", format_kn(peak_n))
    first, last = readings.samples[0].time_s, readings.samples[-1].time_s
    yield Fact("Readings", str(len(readings.samples)), note=f"over {last - first:.1f} s")
    if readings.problems:
        yield Fact("Lines not used", str(len(readings.problems)), note="they are kept and told")


def still_missing(form: TestForm, *refusals: Refusal) -> tuple[Missing, ...]:
    """Tell what keeps the test from being recorded, in the order of the form."""
    told = [
        Missing(str(form[name].label), str(error), f"{form[name].auto_id}-field")
        for name, errors in form.errors.items()
        if name in form.fields
        for error in errors
    ]
    for refusal in refusals:
        name = refusal.field
        at = form[name] if name in form.fields else None
        label = str(at.label) if at else "This test"
        told.append(Missing(label, refusal.message, f"{at.auto_id}-field" if at else "preview"))
    return tuple(told)


def has_all(form: TestForm, needed: Collection[str]) -> bool:
    """Tell whether what a verdict rests on could be read."""
    return all(form.cleaned_data.get(name) is not None for name in needed)
