"""Decides what is asked for about holds and testing machines."""

from typing import Any

from django import forms

from inventory.models import Calibration
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import ForceField, LengthField


class HoldFilter(Ask):
    """Which holds to list."""

    state = forms.ChoiceField(
        required=False,
        choices=[("", "standing"), ("released", "released"), ("all", "all")],
    )


class HoldForm(Ask):
    """What is in doubt."""

    reason = forms.CharField(
        max_length=300,
        widget=forms.Textarea({"rows": 3}),
        label="What is in doubt",
        help_text="Whoever meets the hold reads this, also on site through a tag.",
    )


class ReelHoldForm(HoldForm):
    """What is in doubt of a reel, or of a stretch of it."""

    from_mm = LengthField(
        required=False, label="From metre", help_text="Leave both empty for the whole reel."
    )
    to_mm = LengthField(
        required=False,
        label="To metre",
        help_text="In metres from the free end as received: 120.5.",
    )
    field_order = ("from_mm", "to_mm", "reason")


class ReleaseForm(Ask):
    """How the doubt was settled."""

    reason = forms.CharField(
        max_length=300,
        widget=forms.Textarea({"rows": 3}),
        label="How the doubt was settled",
        help_text="It stays on record beside the hold.",
    )


class MachineForm(Ask):
    """A testing machine to register."""

    name = forms.CharField(max_length=80, help_text="What it is called here: 50 t bench.")
    maker = forms.CharField(max_length=80, required=False, help_text="As on its plate.")
    serial_number = forms.CharField(
        max_length=60, help_text="As on its plate: it is how a certificate names the machine."
    )


class CalibrationForm(Ask):
    """A calibration certificate of a machine."""

    keeps_units = True

    certificate_number = forms.CharField(
        max_length=60, help_text="As printed on the calibration certificate."
    )
    laboratory = forms.CharField(
        max_length=120, help_text="Who calibrated it, as on the certificate."
    )
    accreditation_number = forms.CharField(
        max_length=60, required=False, help_text="As on the certificate. Empty: none is stated."
    )
    calibrated_date = forms.DateField(
        label="Calibrated on",
        widget=forms.DateInput({"type": "date"}),
        help_text="The day of the calibration, not of its certificate.",
    )
    due_date = forms.DateField(
        label="Due again on",
        widget=forms.DateInput({"type": "date"}),
        help_text="A test after this day cannot support a certificate.",
    )
    machine_class = forms.ChoiceField(
        choices=Calibration.MachineClass.choices,
        label="Class",
        help_text="ISO 7500-1, as the certificate says.",
    )
    range_from_n = ForceField(
        label="Verified from", help_text="In kN or with a unit; a force below it proves nothing."
    )
    range_to_n = ForceField(
        label="Verified to",
        help_text="In kN or with a unit: 500 kN. A force above it proves nothing.",
    )
    resolution_n = ForceField(
        required=False, label="Resolution", help_text="In kN or with a unit: 10 N."
    )
    uncertainty_pct = forms.CharField(
        required=False,
        max_length=20,
        label="Expanded uncertainty U, % of the force",
        help_text="The greatest over the range, as the certificate states it: 0.24.",
    )
    coverage_factor = forms.CharField(
        required=False,
        max_length=20,
        label="Coverage factor k",
        help_text="As the certificate states it with U, mostly 2.",
    )
    repeatability_pct = forms.CharField(
        required=False,
        max_length=20,
        label="Repeatability b, % of the force",
        help_text="The greatest difference of three series. Left empty, the greatest that the class"
        " allows counts.",
    )


def hold_form_for(*, is_reel: bool, args: tuple[Any, ...]) -> HoldForm:
    """Return the form for a hold; only a reel is held by the metre."""
    return (ReelHoldForm if is_reel else HoldForm)(*args)
