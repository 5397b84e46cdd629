"""Decides what is asked for about one's own way of reading."""

from django import forms
from django.conf import settings

from inventory.models import Preference
from inventory.pages.forms.asking import Ask
from inventory.queries.time_zones import zones_by_region


class ReadingForm(Ask):
    """Units and time zone."""

    units = forms.ChoiceField(
        choices=Preference.Units.choices,
        widget=forms.RadioSelect,
        help_text="Factors of NIST SP 811. What is recorded and printed stays metric.",
    )
    time_zone = forms.ChoiceField(
        required=False,
        label="Time zone",
        help_text=(
            "Times of day are shown and typed in it, such as Europe/Berlin. Days of record, as on"
            " a certificate, stay days of the house."
        ),
    )

    def __init__(self, *args: object, **more: object) -> None:
        """Offer the zones region by region."""
        super().__init__(*args, **more)  # type: ignore[arg-type]
        field = self.fields["time_zone"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [
                ("", f"of the house: {settings.TIME_ZONE}"),
                *(
                    (region, [(name, name.replace("_", " ")) for name in names])
                    for region, names in zones_by_region().items()
                ),
            ]
