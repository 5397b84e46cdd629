"""Decides what is asked for about reels: which to list, what is received, where one stands."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict

from inventory.models import MillDocument, Party
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.lines import AnalysisField
from inventory.pages.forms.mills import MillField
from inventory.pages.forms.quantities import ForceField, LayField, LengthField, MassField
from inventory.pages.forms.rows import rows_of
from inventory.queries.reel_register import ropes_on_record
from inventory.queries.registers import parties
from inventory.rules.refusal import Refusal
from inventory.rules.units import diameter_nm


class ReelFilter(Ask):
    """Which reels to list."""

    construction = forms.ChoiceField(required=False)
    diameter = forms.CharField(required=False, max_length=20, label="Diameter, mm")
    grade = forms.ChoiceField(required=False)
    mill = forms.ModelChoiceField(
        parties(kind=Party.Kind.MILL), required=False, empty_label="any", to_field_name="code"
    )
    stock = forms.ChoiceField(
        required=False, choices=[("", "in stock"), ("all", "also used up")], label="Left on it"
    )

    def __init__(self, data: QueryDict) -> None:
        """Offer the constructions and grades that are on record."""
        super().__init__(data)
        known = ropes_on_record()
        for name, values in (("construction", known.constructions), ("grade", known.grades)):
            field = self.fields[name]
            if isinstance(field, forms.ChoiceField):
                field.choices = _any_of(values)

    def clean_diameter(self) -> int | None:
        """Read the diameter."""
        text = self.cleaned_data["diameter"]
        try:
            return diameter_nm(text) if text else None
        except Refusal as refusal:
            raise ValidationError(refusal.message) from refusal

    @property
    def asked(self) -> dict[str, Any]:
        """What the list is narrowed by; what could not be read narrows nothing."""
        return {
            "construction": self.read("construction") or "",
            "diameter_nm": self.read("diameter"),
            "grade": self.read("grade") or "",
            "mill": self.read("mill"),
            "is_in_stock": self.read("stock") != "all",
        }


class ReceiveForm(Ask):
    """A reel as it came from the mill; its heats are asked for in `HeatRows`."""

    keeps_units = True

    designation = forms.CharField(
        max_length=120,
        help_text=(
            "As in EN 12385-2: diameter, construction-core, grade, finish, lay:"
            " 8 6x7-WSC 1770 B sZ. Also 7x7, 7x19."
        ),
    )
    mill = MillField(help_text="Who made the rope: name or code, as registered.")
    mill_reel_number = forms.CharField(
        max_length=60, required=False, help_text="As on the reel and its paper."
    )
    length_mm = LengthField(label="Length", help_text="In metres, or with a unit: 3280 ft.")
    marked_grade = forms.CharField(
        max_length=12,
        required=False,
        help_text="As marked on the reel.",
    )
    declared_force_n = ForceField(
        label="Declared breaking force, kN",
        required=False,
        help_text="As printed, or with a unit. Not printed: leave it.",
    )
    declared_mass_g_per_100m = MassField(
        label="Declared mass, kg per 100 m",
        required=False,
        min_value=0,
        max_digits=9,
        decimal_places=3,
        help_text="As printed.",
    )
    lay_length_um = LayField(
        label="Stated lay length, mm",
        required=False,
        help_text="Or with a unit. Soft eyes are held against it.",
    )
    marking = forms.CharField(
        max_length=200, required=False, help_text="What else is marked on it, as it stands."
    )
    location = forms.CharField(max_length=60, required=False, help_text="Where it stands now.")
    document_on_file = forms.CharField(
        max_length=60,
        required=False,
        label="Or a document on file",
        help_text="Its number, or our code D-…",
    )
    file = forms.FileField(
        required=False,
        label="Mill document",
        help_text="PDF, JPEG or PNG, at most 20 MB.",
    )
    number = forms.CharField(
        required=False, max_length=60, label="Document number", help_text="As printed on it."
    )
    kind = forms.ChoiceField(
        required=False,
        choices=[("", "as printed on it"), *MillDocument.Kind.choices],
        label="Document type",
        help_text="Of EN 10204, as printed.",
    )
    form = forms.ChoiceField(
        required=False,
        choices=MillDocument.Form.choices,
        label="What was received",
        help_text="A copy counts while its original can be produced.",
    )
    issued_date = forms.DateField(
        required=False,
        widget=forms.DateInput({"type": "date"}),
        label="Document date",
        help_text="As printed on it.",
    )
    validated_by = forms.CharField(
        required=False,
        max_length=120,
        label="Validated by",
        help_text="Name and function, as printed.",
    )

    PAPER = ("number", "kind", "form", "issued_date", "validated_by")
    NEEDED_OF_PAPER = ("number", "kind", "issued_date")

    def clean(self) -> dict[str, Any] | None:
        """A new document is described, and what is described is handed in."""
        read = super().clean() or self.cleaned_data
        is_handed_in = bool(self.files.get("file"))
        for name in self.NEEDED_OF_PAPER:
            if is_handed_in and not read.get(name) and name not in self.errors:
                self.add_error(name, "Say it of the new document as well.")
        if not is_handed_in and read.get("number"):
            self.add_error("file", "Choose the scan of the new document.")
        return read


class HeatRow(Ask):
    """A heat in the wires of the reel, on record or new."""

    number = forms.CharField(
        max_length=40,
        label="Heat number",
        widget=forms.TextInput({"list": "known-heats", "autocomplete": "off"}),
        help_text="As the mill’s document names it.",
    )
    steel_name = forms.CharField(
        max_length=40,
        required=False,
        label="Steel, if it is new",
        help_text="As the mill names it: C78D.",
    )
    from_mm = LengthField(
        required=False,
        label="From metre",
        help_text="Leave both ends empty when it runs through the whole reel.",
    )
    to_mm = LengthField(
        required=False, label="To metre", help_text="Metre 0 is the free end as received."
    )
    analysis = AnalysisField(required=False, label="Ladle analysis, if new")


HeatRows = rows_of(HeatRow, most=60)


class MoveForm(Ask):
    """Where a reel stands now."""

    location = forms.CharField(max_length=60, label="Stands now at")


class RewindForm(Ask):
    """A stretch of a reel to be wound on to another."""

    from_mm = LengthField(label="From metre", help_text="Metre 0 is the free end as received.")
    to_mm = LengthField(label="To metre", help_text="In metres, on the same scale: 250.")
    is_turned = forms.TypedChoiceField(
        label="How it was wound",
        choices=[("yes", "once: the last metre is now the free end"), ("no", "twice: as it lay")],
        coerce=lambda text: text == "yes",
        help_text="Winding turns the rope round; every trace through it rests on this.",
    )
    location = forms.CharField(
        max_length=60, required=False, help_text="Where the new reel stands."
    )


def _any_of(values: tuple[str, ...]) -> list[tuple[str, str]]:
    return [("", "any"), *((value, value) for value in values)]
