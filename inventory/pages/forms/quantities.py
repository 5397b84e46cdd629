"""Decides how quantities are typed and shown again: lengths in metres, forces in kN, mass in kg."""

from collections.abc import Callable
from decimal import Decimal
from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError

from inventory.pages.forms.words import FieldWords
from inventory.rules.refusal import Refusal
from inventory.rules.units import (
    format_kg,
    format_kn,
    format_metres,
    format_um,
    parse_force_n,
    parse_length_mm,
    parse_length_um,
    parse_mass_g,
)

_G_PER_KG = 1000


class QuantityField(forms.CharField):
    """Text read into a whole number; left empty it is `empty`."""

    read: Callable[[str], int]
    write: Callable[[int], str]

    def __init__(self, *, empty: int | None = None, **words: Unpack[FieldWords]) -> None:
        """Take what an empty field means, besides what every field takes."""
        words.setdefault("max_length", 40)
        super().__init__(**words)
        self.empty = empty

    def clean(self, value: object) -> object:
        """Read the text; a refusal of the rule is the field's error."""
        text = super().clean(value)
        if not text:
            return self.empty
        try:
            return type(self).read(text)
        except Refusal as refusal:
            raise ValidationError(refusal.message) from refusal

    def prepare_value(self, value: object) -> object:
        """Write a number as people type it."""
        return type(self).write(value) if isinstance(value, int) else value


class LengthField(QuantityField):
    """A length in whole mm, typed in metres unless a unit is written."""

    read = staticmethod(parse_length_mm)
    write = staticmethod(format_metres)


class LayField(QuantityField):
    """A lay length in whole µm, typed in mm unless a unit is written."""

    read = staticmethod(parse_length_um)
    write = staticmethod(format_um)


class ForceField(QuantityField):
    """A force in whole N, typed in kN unless a unit is written."""

    read = staticmethod(parse_force_n)
    write = staticmethod(format_kn)


class WeightField(QuantityField):
    """A mass in whole g, typed in kg unless a unit is written."""

    read = staticmethod(parse_mass_g)
    write = staticmethod(format_kg)


class MassField(forms.DecimalField):
    """A mass in whole g, typed in kg."""

    def clean(self, value: object) -> object:
        """Read kg into g."""
        kg = super().clean(value)
        return int(kg * _G_PER_KG) if isinstance(kg, Decimal) else None
