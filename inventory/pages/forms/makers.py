"""Decides what is asked for about parties, heats, mill documents and fittings."""

from typing import Any

from django import forms

from inventory.models import FittingLot, MillDocument, Party
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.lines import AnalysisField
from inventory.queries.registers import heat_of, makers, mill_document_of, parties


class PartyFilter(Ask):
    """Which parties to list."""

    kind = forms.ChoiceField(required=False, choices=[("", "all"), *Party.Kind.choices])


class PartyForm(Ask):
    """A firm to register."""

    kind = forms.ChoiceField(choices=Party.Kind.choices, label="What it is to us")
    name = forms.CharField(max_length=120, help_text="As it is to stand on papers.")
    address = forms.CharField(
        required=False,
        max_length=1000,
        widget=forms.Textarea({"rows": 4, "autocomplete": "off"}),
        help_text="As it is to stand on papers, line by line.",
    )


class MadeFilter(Ask):
    """Which heats or documents to list."""

    mill = forms.ModelChoiceField(
        makers(), required=False, empty_label="all", to_field_name="code", label="Maker"
    )
    number = forms.CharField(required=False, max_length=60, label="Number begins with")


class HeatForm(Ask):
    """A heat of a maker."""

    mill = forms.ModelChoiceField(makers(), to_field_name="code", label="Maker")
    number = forms.CharField(
        max_length=40, label="Heat number", help_text="As printed on the maker's document."
    )
    steel_name = forms.CharField(
        max_length=40, label="Steel", help_text="As the maker names it: C78D, 1.4401."
    )
    analysis = AnalysisField(
        required=False,
        label="Ladle analysis",
        help_text="In mass %, one element a line, with the decimals as printed: C 0.78",
    )


class DocumentForm(Ask):
    """A maker's inspection document with its scan."""

    mill = forms.ModelChoiceField(makers(), to_field_name="code", label="Maker")
    number = forms.CharField(max_length=60, help_text="As printed on it.")
    kind = forms.ChoiceField(
        choices=MillDocument.Kind.choices,
        label="Type",
        help_text="The type of EN 10204 that is printed on it.",
    )
    form = forms.ChoiceField(
        choices=MillDocument.Form.choices,
        label="What was received",
        help_text="A copy is good evidence only while its original can be produced.",
    )
    issued_date = forms.DateField(
        label="Date on it",
        widget=forms.DateInput({"type": "date"}),
        help_text="As printed, not the day it came.",
    )
    validated_by = forms.CharField(
        required=False, max_length=120, help_text="Name and function, as printed."
    )
    content = forms.FileField(label="Scan", help_text="PDF, JPEG or PNG, at most 20 MB.")


class FittingFilter(Ask):
    """Which lots to list."""

    kind = forms.ChoiceField(required=False, choices=[("", "all"), *FittingLot.Kind.choices])


class FittingLotForm(Ask):
    """A lot of fittings as received."""

    kind = forms.ChoiceField(choices=FittingLot.Kind.choices)
    maker = forms.ModelChoiceField(makers(), to_field_name="code")
    maker_lot_number = forms.CharField(
        max_length=60, label="Lot number", help_text="As the maker marks the lot."
    )
    description = forms.CharField(max_length=120, help_text="Size and make, as ordered.")
    material = forms.CharField(
        max_length=60, required=False, help_text="As its maker states it: 1.4401, copper."
    )
    for_diameter = forms.CharField(
        max_length=20,
        required=False,
        label="For rope of diameter",
        help_text="In mm, or 3/8 in. Leave empty when it fits any rope.",
    )
    quantity = forms.IntegerField(
        min_value=1,
        max_value=1_000_000,
        label="How many",
        help_text="As counted, not as on the delivery note.",
    )
    rated_kg = forms.IntegerField(
        min_value=1,
        max_value=1_000_000,
        required=False,
        label="Marked load, kg",
        help_text="The working load limit that its maker marks on each, for links and hooks.",
    )
    heat = forms.CharField(
        max_length=40,
        required=False,
        label="Heat number",
        help_text="If the maker names one; it must be on record for this maker.",
    )
    document = forms.CharField(
        max_length=60,
        required=False,
        label="Document on file",
        help_text="Number of the maker's document, or our code D-…",
    )

    def clean(self) -> dict[str, Any] | None:
        """Find the heat and the document among those of the maker."""
        read = super().clean() or self.cleaned_data
        maker = read.get("maker")
        heat, document = (str(read.get(name) or "").strip() for name in ("heat", "document"))
        read["heat"] = heat_of(mill=maker, number=heat) if maker and heat else None
        read["document"] = (
            mill_document_of(mill=maker, named=document) if maker and document else None
        )
        for name, text in (("heat", heat), ("document", document)):
            if maker and text and read[name] is None:
                self.add_error(name, f"{maker.code} has no {name} “{text}” on record.")
        return read


class CustomerFilter(Ask):
    """Whose orders or deliveries to list."""

    customer = forms.ModelChoiceField(
        parties(kind=Party.Kind.CUSTOMER), required=False, empty_label="all", to_field_name="code"
    )
