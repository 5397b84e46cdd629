"""Reads what was weighed or measured of a reel; what follows is worked out by the rules."""

from typing import Any

from django import forms

from certs.models import ReelReading
from certs.pages.forms.tests import MillimetreField
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import WeightField


class ReelReadingForm(Ask):
    """One reading: two masses, or three dimensions."""

    kind = forms.ChoiceField(
        label="Read",
        choices=ReelReading.Kind.choices,
        widget=forms.RadioSelect,
        help_text="By mass: fill in the two masses. By drum: fill in the three dimensions.",
    )
    gross_g = WeightField(
        label="Mass of the reel with its rope",
        required=False,
        help_text="In kg unless a unit is written.",
    )
    tare_g = WeightField(
        label="Mass of the empty reel",
        required=False,
        help_text="In kg unless a unit is written; weighed, or as marked on it.",
    )
    barrel_mm = MillimetreField(
        label="Diameter of the barrel", required=False, help_text="In mm, without rope."
    )
    traverse_mm = MillimetreField(
        label="Width between the flanges", required=False, help_text="In mm, inside to inside."
    )
    wound_mm = MillimetreField(
        label="Diameter over the winding",
        required=False,
        help_text="In mm, level on top: the mean of a few places.",
    )
    note = forms.CharField(max_length=300, required=False)

    @property
    def values(self) -> dict[str, Any]:
        """What was read, as the service asks for it."""
        return dict(self.cleaned_data)
