"""Decides what is asked for about assemblies: the kind, and each leg with its two ends."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from inventory.models import Assembly, CutPiece, OrderLine, Termination
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.codes import CodeField, FittingsField
from inventory.pages.forms.quantities import QuantityField
from inventory.pages.forms.rows import rows_of
from inventory.queries.registers import lines_of_order
from inventory.queries.things import order_of_code
from inventory.rules.units import parse_length_mm

_ENDS = [("", "left open"), *Termination.Kind.choices]
_LOTS = "Lots and how many of each: F-12, F-13 x 2"
_EYE = "In mm, all round, for an eye without a thimble. Empty: not measured."


class SmallLengthField(QuantityField):
    """A length in whole mm, typed in mm unless a unit is written; rounded down.

    Pin, eye and clear rope are all held against a least size: 5/8 in is no pin of 16 mm.
    """

    @staticmethod
    def read(text: str) -> int:
        """Read the text; a bare number is in mm."""
        return parse_length_mm(text, unit="mm", rounds_down=True)

    @staticmethod
    def write(value: int) -> str:
        """Write a number as people type it."""
        return f"{value} mm"


class AssemblyFilter(Ask):
    """Which assemblies to list."""

    kind = forms.ChoiceField(required=False, choices=[("", "all"), *Assembly.Kind.choices])


class AssemblyForm(Ask):
    """An assembly to be built; its legs are asked for in `LegRows`."""

    kind = forms.ChoiceField(choices=Assembly.Kind.choices)
    description = forms.CharField(
        max_length=120,
        required=False,
        help_text="What it is, as on papers: two-leg sling with master link.",
    )
    order_line = forms.CharField(
        max_length=30,
        required=False,
        help_text="Order code and line, such as O-00012.1, if it is built for an order.",
    )
    use = forms.TypedChoiceField(
        choices=Assembly.Use.choices,
        required=False,
        empty_value=Assembly.Use.LIFTING.value,
        label="What it is for",
        help_text="Slings lift. U-bolt grips may end what only holds something up.",
    )
    convention = forms.TypedChoiceField(
        choices=Assembly.Convention.choices,
        required=False,
        empty_value=Assembly.Convention.FROM_VERTICAL.value,
        label="Rated by",
        help_text="It stands beside every working load limit.",
    )
    market_date = forms.DateField(
        required=False,
        label="Placed on the market",
        widget=forms.DateInput({"type": "date"}),
        help_text="The law of that day decides which proof load applies. Empty: not known yet.",
    )
    bend_mm = SmallLengthField(
        required=False,
        label="Thinnest pin or hook it will bear on",
        help_text="In mm; for an edge, twice its radius. Empty: not said.",
    )

    def clean_order_line(self) -> OrderLine | None:
        """Find the order line."""
        text = self.cleaned_data["order_line"].strip().upper()
        if not text:
            return None
        code, _, position = text.rpartition(".")
        order = order_of_code(code)
        lines = [] if order is None else list(lines_of_order(order))
        line = next((line for line in lines if str(line.position) == position), None)
        if line is None:
            message = f"“{text}” is no order line on record; write it as O-00012.1."
            raise ValidationError(message)
        return line


class LegRow(Ask):
    """A cut piece with what is fitted to its ends."""

    piece = CodeField(kind=CutPiece, label="Cut piece", help_text="Its code P-…")
    operator = forms.CharField(
        max_length=80,
        required=False,
        label="Made by",
        help_text="Who pressed, spliced or socketed the ends.",
    )
    near_kind = forms.ChoiceField(required=False, choices=_ENDS, label="Near end")
    near_fittings = FittingsField(
        required=False, max_length=200, label="Fittings at the near end", help_text=_LOTS
    )
    far_kind = forms.ChoiceField(required=False, choices=_ENDS, label="Far end")
    far_fittings = FittingsField(
        required=False, max_length=200, label="Fittings at the far end", help_text=_LOTS
    )
    near_eye_mm = SmallLengthField(required=False, label="Soft eye at the near end", help_text=_EYE)
    far_eye_mm = SmallLengthField(required=False, label="Soft eye at the far end", help_text=_EYE)
    clear_mm = SmallLengthField(
        required=False,
        label="Clear rope",
        help_text="In mm, between ferrules or between the tails of splices. Empty: not measured.",
    )

    def clean(self) -> dict[str, Any] | None:
        """Fittings and eyes are on an end that is not left open."""
        read = super().clean() or self.cleaned_data
        for end in ("near", "far"):
            if read.get(f"{end}_kind"):
                continue
            if read.get(f"{end}_fittings"):
                self.add_error(f"{end}_kind", "Say how this end is terminated with the fittings.")
            elif read.get(f"{end}_eye_mm"):
                self.add_error(f"{end}_kind", "Say how the eye at this end is made.")
        return read


LegRows = rows_of(LegRow, most=8)
