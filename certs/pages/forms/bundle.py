"""Reads what a bundle is asked of."""

from typing import Any

from django import forms

from certs.services.take_bundle import Asked
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import LengthField


class BundleForm(Ask):
    """A code, metres of a reel, a past day, and whether people are named."""

    code = forms.CharField(
        label="Code",
        max_length=60,
        help_text="Of a reel, piece, assembly, heat, fitting lot, certificate, test or tag.",
    )
    from_mm = LengthField(
        label="From metre",
        required=False,
        help_text="For a stretch of a reel alone. Left empty: all of it.",
    )
    to_mm = LengthField(label="To metre", required=False, help_text="In metres, on the same scale.")
    on = forms.DateField(
        label="As known on",
        required=False,
        widget=forms.DateInput({"type": "date"}),
        help_text="A past day: what was recorded after it is left out.",
    )
    roles_only = forms.BooleanField(
        label="Tell people by their role, not by name",
        required=False,
        help_text="The papers themselves name whoever signed them.",
    )

    @property
    def asked(self) -> Asked:
        """What was asked, as the service takes it."""
        values: dict[str, Any] = {**self.cleaned_data}
        return Asked(with_names=not values.pop("roles_only"), **values)
