"""Decides how a mill is typed: by its name or its code, among those on record."""

from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import Q

from inventory.models import Party
from inventory.pages.forms.words import FieldWords
from inventory.queries.registers import parties

LIST = "known-mills"


class MillField(forms.CharField):
    """The name or code of a mill on record; the page lists them under the id of `LIST`."""

    widget = forms.TextInput({"list": LIST, "autocomplete": "off"})

    def __init__(self, **words: Unpack[FieldWords]) -> None:
        """Take what every field takes."""
        words.setdefault("max_length", 140)
        super().__init__(**words)

    def clean(self, value: object) -> object:
        """Find the mill."""
        text = super().clean(value)
        named = Q(code=text.upper()) | Q(name__iexact=text)
        mills = list(parties(kind=Party.Kind.MILL).filter(named)[:2]) if text else []
        if len(mills) == 1 or not text:
            return mills[0] if mills else None
        message = f"No mill is called “{text}”. Choose one from the list, or register it first."
        raise ValidationError(message)

    def prepare_value(self, value: object) -> object:
        """Write the name of a mill."""
        return value.name if isinstance(value, Party) else value
