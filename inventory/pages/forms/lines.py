"""Decides how things that need more than one word are typed: an analysis, a line of an order."""

import re
from typing import TYPE_CHECKING, Unpack

from django import forms
from django.core.exceptions import ValidationError

from inventory.models import OrderLine
from inventory.pages.forms.words import FieldWords
from inventory.rules.designation import parse_designation
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres

if TYPE_CHECKING:
    _LineChoice = forms.ModelChoiceField[OrderLine]
else:
    _LineChoice = forms.ModelChoiceField

_ELEMENT = re.compile(
    r"(?P<symbol>[A-Za-z]{1,2})\s*[ :=]?\s*(?P<figure><?[0-9]+(?:[.,][0-9]+)?)\s*%?"
)


class AnalysisField(forms.CharField):
    """A ladle analysis, one element a line: "C 0.78"."""

    widget = forms.Textarea({"rows": 4})

    def __init__(self, **words: Unpack[FieldWords]) -> None:
        """Say how it is typed, besides what every field takes."""
        words.setdefault("help_text", "In mass %, one element a line, as printed: C 0.78")
        words.setdefault("max_length", 1000)
        super().__init__(**words)

    def clean(self, value: object) -> object:
        """Read symbol and figure of each line; which symbols there are is a rule's business."""
        read: dict[str, str] = {}
        for part in re.split(r"[\n;]+", super().clean(value)):
            if part.strip():
                symbol, figure = _element(part.strip())
                if symbol in read:
                    message = f"{symbol} is given twice."
                    raise ValidationError(message)
                read[symbol] = figure
        return read


class DesignationField(forms.CharField):
    """A rope designation; the text is kept as typed once it can be understood."""

    def clean(self, value: object) -> object:
        """Say beside the field which part is not understood."""
        text = super().clean(value)
        try:
            parse_designation(text)
        except Refusal as refusal:
            raise ValidationError(refusal.message) from refusal
        return text


class LineField(_LineChoice):
    """One line of an order, named by the order's code and its position: "O-00012.1"."""

    def label_from_instance(self, obj: OrderLine) -> str:
        """Say what the line asks for and who asks."""
        asked = f"{obj.quantity} × {format_metres(obj.length_mm)}"
        return f"{named_line(obj)}: {asked}, {obj.order.customer.name}"

    def prepare_value(self, value: object) -> object:
        """Write the name of the line."""
        return named_line(value) if isinstance(value, OrderLine) else value

    def to_python(self, value: object) -> OrderLine | None:
        """Find the line among those offered."""
        if value in self.empty_values:
            return None
        offered = self.queryset
        code, _, position = str(value).rpartition(".")
        line = None
        if offered is not None and position.isdecimal() and len(position) <= 4:  # noqa: PLR2004
            line = offered.filter(order__code=code, position=int(position)).first()
        if line is None:
            message = "This order line does not ask for this rope, or is served already."
            raise ValidationError(message)
        return line


def named_line(line: OrderLine) -> str:
    """Return how a line is named in an address or a form."""
    return f"{line.order.code}.{line.position}"


def _element(text: str) -> tuple[str, str]:
    match = _ELEMENT.fullmatch(text)
    if match is None:
        message = f"“{text}” was not understood; write symbol and mass %, such as Mn 0.62."
        raise ValidationError(message)
    return match["symbol"], match["figure"]
