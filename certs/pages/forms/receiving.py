"""Reads what was measured of a reel at goods in; what agrees with what is decided by the rules."""

from typing import Any

from django import forms

from certs.queries.receiving import Measured, standards_held
from certs.queries.specification_tables import agreed_specifications
from certs.rules.measured_diameter import FIELDS, whole_readings
from certs.rules.zinc_class import CLASSES
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import LengthField, QuantityField, WeightField
from inventory.pages.forms.reels import ReceiveForm
from inventory.rules.units import diameter_nm

USUAL_STANDARD = "EN 12385-4"
_NM_PER_MM = 10**6


class DiameterField(QuantityField):
    """A measured diameter in whole nm, typed in mm unless inches are written."""

    read = staticmethod(diameter_nm)

    @staticmethod
    def write(value: int) -> str:
        """Write mm."""
        return f"{value / _NM_PER_MM:g} mm"


class MeasuredForm(Ask):
    """What was measured of a reel, and what it is held against; all of it may be left empty."""

    standard = forms.ChoiceField(
        required=False,
        label="Diameter limits of",
        initial=USUAL_STANDARD,
        help_text="The standard the rope was ordered to. None is published below 2 mm.",
    )
    agreed = forms.ModelChoiceField(
        agreed_specifications(),
        required=False,
        empty_label="none",
        label="Agreed specification",
        help_text="Its limits and factors go before those of a standard.",
    )
    place1_a_nm = DiameterField(required=False, label="Place 1, across")
    place1_b_nm = DiameterField(required=False, label="Place 1, at right angles")
    place2_a_nm = DiameterField(required=False, label="Place 2, across")
    place2_b_nm = DiameterField(required=False, label="Place 2, at right angles")
    weighed_length_mm = LengthField(
        required=False, label="Length weighed", help_text="In metres, or with a unit: 850 mm."
    )
    weighed_mass_g = WeightField(
        required=False, label="Its mass", help_text="In kg, or with a unit: 640 g."
    )
    zinc_class = forms.ChoiceField(
        required=False,
        label="Zinc class",
        choices=[("", "none stated"), *((one, one) for one in CLASSES)],
        help_text="As the mill’s document states it.",
    )
    note = forms.CharField(max_length=300, required=False, label="Note on the check")

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Offer the standards whose limits are held."""
        super().__init__(*args, **kwargs)
        field = self.fields["standard"]
        if isinstance(field, forms.ChoiceField):
            held = ((name, name) for name in standards_held())
            field.choices = [("", "no standard"), *held]

    @property
    def measured(self) -> Measured:
        """What was read. Raises Refusal where some readings are missing."""
        read = self.cleaned_data
        return Measured(
            standard=read["standard"],
            agreed=read["agreed"],
            readings=whole_readings({name: read[name] for name in FIELDS}),
            weighed_length_mm=read["weighed_length_mm"],
            weighed_mass_g=read["weighed_mass_g"],
            zinc_class=read["zinc_class"],
            note=read["note"],
            as_given={k: v for k, v in self.as_given.items() if k in MEASURED},
        )


MEASURED = frozenset(MeasuredForm.base_fields)


class ReceiveCheckedForm(MeasuredForm, ReceiveForm):
    """A reel as it came from the mill, with what was measured of it."""

    @property
    def received(self) -> dict[str, Any]:
        """What was read of the reel itself, as the service that receives it asks for it."""
        read = {name: value for name, value in self.values.items() if name not in MEASURED}
        if "as_given" in read:
            own = {k: v for k, v in read["as_given"].items() if k not in MEASURED}
            read["as_given"] = own
        return read
