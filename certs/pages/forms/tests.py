"""Reads what was measured in a test; what it shows is found and judged by the rules."""

from collections.abc import Iterator
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile

from certs.queries.decision_rules import decision_rules
from certs.queries.retests_due import repeatable_tests
from certs.rules.load_log import LineProblem, UnreadableLog
from certs.rules.log_columns import NEWTONS_PER_UNIT, SECONDS_PER_UNIT
from inventory.models import Assembly, CutPiece
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.codes import CodeField
from inventory.pages.forms.moments import MomentField
from inventory.pages.forms.quantities import ForceField, QuantityField
from inventory.queries.registers import machines
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_um, parse_length_mm, parse_length_um

AS_IN_HEADING = ("", "as the log’s heading says")
LOG_HELP = (
    "CSV as the machine writes it: a line for each reading with time and force. Comma, semicolon"
    " or tab; decimal point or comma."
)


class MillimetreField(QuantityField):
    """A short length in whole mm, typed in mm unless a unit is written."""

    @staticmethod
    def read(text: str) -> int:
        """Read mm, or the unit that is written."""
        return parse_length_mm(text, unit="mm")

    @staticmethod
    def write(value: int) -> str:
        """Write mm."""
        return f"{value} mm"


class GaugeField(QuantityField):
    """A gauge length in whole micrometres, typed in mm with decimals unless a unit is written."""

    read = staticmethod(parse_length_um)
    write = staticmethod(format_um)


class TestForm(Ask):
    """What both kinds have in common. The log comes last: what it shows moves no field."""

    keeps_units = True

    machine = forms.ModelChoiceField(queryset=machines(), label="Testing machine")
    tested_at = MomentField(
        label="Tested",
        help_text="Date and time of the test. The calibration of that day counts.",
    )
    log_force_unit = forms.ChoiceField(
        label="Unit of force in the log",
        required=False,
        choices=[AS_IN_HEADING, *((unit, unit) for unit in NEWTONS_PER_UNIT)],
    )
    log_time_unit = forms.ChoiceField(
        label="Unit of time in the log",
        required=False,
        choices=[AS_IN_HEADING, *((unit, unit) for unit in SECONDS_PER_UNIT)],
    )
    decision_rule = forms.ModelChoiceField(
        queryset=decision_rules(),
        label="Decision rule",
        required=False,
        empty_label="the standard’s own rule",
        help_text="How the uncertainty of the force counts, where that was agreed before the test.",
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Begin with no line at fault."""
        super().__init__(*args, **kwargs)
        self.line_problems: tuple[LineProblem, ...] = ()

    def refuse(self, refusal: Refusal) -> None:
        """Show why the service said no, and the lines of the log at fault."""
        super().refuse(refusal)
        if isinstance(refusal, UnreadableLog):
            self.line_problems = refusal.problems

    @property
    def values(self) -> dict[str, Any]:
        """What was read, with the log as bytes."""
        return {**super().values, **dict(self._log_values())}

    def _log_values(self) -> Iterator[tuple[str, Any]]:
        log = self.cleaned_data.get("log")
        yield "log", log.read() if isinstance(log, UploadedFile) else None
        yield "log_name", str(log.name or "") if isinstance(log, UploadedFile) else ""
        for unit in ("log_force_unit", "log_time_unit"):
            yield unit, self.cleaned_data.get(unit) or None


CLEAR, MEASURED, UNKNOWN = "clear", "measured", "unknown"
PLACES = [
    (CLEAR, "in the clear length, away from the grips"),
    (MEASURED, "at the distance from a grip that is given below"),
    (UNKNOWN, "nobody wrote it down"),
]


class BreakingTestForm(TestForm):
    """A sample pulled until it broke."""

    sample = CodeField(
        kind=CutPiece, label="Test sample", help_text="The code of the piece cut as a sample: P-…"
    )
    log = forms.FileField(label="Force log", required=False, help_text=LOG_HELP)
    peak_n = ForceField(
        label="Greatest force reached",
        required=False,
        help_text="In kN unless a unit is written. Not needed with a log: it is found there.",
    )
    break_place = forms.ChoiceField(
        label="Where it broke",
        choices=PLACES,
        widget=forms.RadioSelect,
        help_text="Within six rope diameters of a grip a result below the required force is"
        " discounted (ISO 3108:2017); where nobody knows the place it is not.",
    )
    break_distance_mm = MillimetreField(
        label="From the break to the nearest grip",
        required=False,
        help_text="In mm, where it was measured.",
    )
    free_length_mm = MillimetreField(
        label="Free length between the grips", required=False, help_text="In mm."
    )
    free_length_asked_mm = MillimetreField(
        label="Free length that is asked for",
        required=False,
        help_text="In mm, where an order or a standard asks for one. Left empty: 300, 600 or 30"
        " diameters are named as usual (older edition of ISO 3108, from memory).",
    )
    free_length_source = forms.CharField(
        label="What asks for it",
        max_length=200,
        required=False,
        help_text="The standard or the order, with its clause.",
    )
    retest_of = forms.ModelChoiceField(
        queryset=repeatable_tests(),
        to_field_name="code",
        required=False,
        label="Retest of",
        empty_label="no retest",
        help_text="The discounted test that this one repeats, on another sample of the same mill"
        " reel.",
    )
    temperature_c = forms.IntegerField(
        label="Temperature, °C", required=False, help_text="10 to 35 °C (ISO 3108:2017)."
    )
    note = forms.CharField(max_length=300, required=False)

    field_order = (
        "sample", "machine", "tested_at", "retest_of", "decision_rule", "break_place",
        "break_distance_mm", "free_length_mm", "free_length_asked_mm", "free_length_source",
        "temperature_c", "note", "peak_n", "log", "log_force_unit", "log_time_unit",
    )  # fmt: skip

    def clean_break_distance_mm(self) -> int | None:
        """Read the distance where one is said to have been measured, and none elsewhere."""
        length_mm: int | None = self.cleaned_data["break_distance_mm"]
        place = self.cleaned_data.get("break_place")
        if place == MEASURED and length_mm is None:
            message = "Give the distance that was measured, or say that nobody wrote it down."
            raise forms.ValidationError(message)
        if place not in {MEASURED, None} and length_mm is not None:
            message = "A distance is given here: say above that it was measured, or leave it out."
            raise forms.ValidationError(message)
        return length_mm

    @property
    def values(self) -> dict[str, Any]:
        """What was read, as the service asks for it."""
        values = super().values
        values["is_break_place_known"] = values.pop("break_place") != UNKNOWN
        return values


GOOD = [("good", "no fault found"), ("fault", "fault found")]


class ProofTestForm(TestForm):
    """A proof load put on an assembly."""

    assembly = CodeField(kind=Assembly, help_text="Its code: A-…")
    required_n = ForceField(label="Proof load", help_text="In kN, or with a unit: 4 tf.")
    required_hold_s = forms.IntegerField(
        label="To be held for, seconds", min_value=0, help_text="As the order or the rule asks."
    )
    ceiling_n = ForceField(
        label="Not to be exceeded", required=False, help_text="In kN, where a rule sets a limit."
    )
    rule = forms.CharField(
        label="Where the proof load comes from",
        max_length=200,
        help_text="The standard, law or order with its clause.",
    )
    log = forms.FileField(
        label="Force log",
        help_text=f"{LOG_HELP} Peak, plateau and time held are found in it, never typed.",
    )
    before = forms.ChoiceField(
        label="Looked over before the load", choices=GOOD, widget=forms.RadioSelect
    )
    before_note = forms.CharField(label="What was seen before", max_length=300, required=False)
    after = forms.ChoiceField(
        label="Looked over after the load", choices=GOOD, widget=forms.RadioSelect
    )
    after_note = forms.CharField(label="What was seen after", max_length=300, required=False)
    gauge_before_um = GaugeField(
        label="Gauge length before the load",
        required=False,
        help_text="Unloaded, in mm with decimals. Left empty: what stays was not measured.",
    )
    gauge_after_um = GaugeField(
        label="Gauge length after the load",
        required=False,
        help_text="The same length, unloaded again, in mm with decimals.",
    )
    extension_limit_pct = forms.CharField(
        label="Most that may stay, %",
        required=False,
        max_length=12,
        help_text="Only where the order or a standard names a limit; none is held here.",
    )

    field_order = (
        "assembly", "machine", "tested_at", "decision_rule", "required_n", "required_hold_s",
        "ceiling_n", "rule", "before", "before_note", "after", "after_note", "gauge_before_um",
        "gauge_after_um", "extension_limit_pct", "log", "log_force_unit", "log_time_unit",
    )  # fmt: skip

    @property
    def values(self) -> dict[str, Any]:
        """What was read, as the service asks for it."""
        values = super().values
        values["before_is_good"] = values.pop("before") == "good"
        values["after_is_good"] = values.pop("after") == "good"
        return values
