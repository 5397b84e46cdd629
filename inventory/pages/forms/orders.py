"""Decides what is asked for about orders and deliveries."""

from django import forms

from inventory.models import Assembly, CutPiece, Order, OrderLine, Party
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.codes import CodeField, CodesField
from inventory.pages.forms.lines import DesignationField
from inventory.pages.forms.quantities import LengthField
from inventory.pages.forms.rows import rows_of
from inventory.queries.registers import parties


class OrderForm(Ask):
    """An order; its lines are asked for in `LineRows`."""

    customer = forms.ModelChoiceField(parties(kind=Party.Kind.CUSTOMER), to_field_name="code")
    customer_reference = forms.CharField(
        max_length=60, required=False, help_text="The customer's own order number."
    )


class TogetherField(forms.TypedChoiceField):
    """What the pieces of a line are to share; nothing, unless somebody asks."""

    def __init__(self, *, label: str, help_text: str) -> None:
        """Take the words beside it."""
        super().__init__(
            choices=OrderLine.Together.choices,
            required=False,
            empty_value=OrderLine.Together.NOT_ASKED.value,
            label=label,
            help_text=help_text,
        )

    def has_changed(self, initial: object, data: object) -> bool:
        """Tell whether something was asked for: a row with nothing else in it is no row."""
        del initial
        return data not in {None, "", OrderLine.Together.NOT_ASKED.value}


class LineRow(Ask):
    """One line of an order."""

    keeps_units = True

    designation = DesignationField(
        max_length=120,
        label="Rope",
        help_text="EN 12385-2 order: diameter, construction-core, grade, finish, lay.",
    )
    length_mm = LengthField(
        label="Length of each", help_text="In metres, or with a unit: 12.5, 41 ft."
    )
    quantity = forms.IntegerField(min_value=1, max_value=100_000, initial=1, label="How many")
    as_one_length = forms.BooleanField(
        required=False, initial=True, label="Each in one length (usual, unless asked otherwise)"
    )
    together = TogetherField(
        label="All of this line together", help_text="Every cut for the line is kept to it."
    )
    tolerance_minus_mm = LengthField(
        required=False,
        empty=0,
        label="May be shorter by",
        help_text="In metres, or with a unit: 20 mm.",
    )
    tolerance_plus_mm = LengthField(
        required=False,
        empty=0,
        label="May be longer by",
        help_text="In metres, or with a unit: 20 mm.",
    )
    document_kind = forms.ChoiceField(
        choices=OrderLine.DocumentKind.choices,
        initial=OrderLine.DocumentKind.NONE,
        label="Document asked for (EN 10204)",
        help_text="Agreed with the order; it cannot be raised afterwards.",
    )


LineRows = rows_of(LineRow, most=60)


class DeliveryForm(Ask):
    """What leaves for a customer."""

    customer = forms.ModelChoiceField(parties(kind=Party.Kind.CUSTOMER), to_field_name="code")
    order = CodeField(
        kind=Order, required=False, help_text="Code O-…, if it is delivered for an order."
    )
    pieces = CodesField(
        kind=CutPiece,
        required=False,
        label="Cut pieces",
        help_text="Codes P-…, one a line. A piece in an assembly leaves with the assembly.",
    )
    assemblies = CodesField(kind=Assembly, required=False, help_text="Codes A-…, one a line.")
    note = forms.CharField(max_length=200, required=False)
