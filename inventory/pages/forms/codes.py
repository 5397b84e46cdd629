"""Decides how things are named in a form: by the code that stands on them, as people type it."""

import re
from typing import Unpack

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import Model

from inventory.models import Assembly, CutPiece, FittingLot
from inventory.pages.forms.words import FieldWords
from inventory.queries.find import find_thing

_SEPARATORS = re.compile(r"[,;\n]+")
_LOT_AND_COUNT = re.compile(r"(?P<code>.+?)(?:\s*[x×*]\s*(?P<count>[0-9]{1,6}))?", re.IGNORECASE)
_NOUNS: dict[type[Model], str] = {
    CutPiece: "cut piece (P-…)",
    Assembly: "assembly (A-…)",
    FittingLot: "lot of fittings (F-…)",
}


class CodeField(forms.CharField):
    """One thing of one kind, by its code."""

    def __init__(self, *, kind: type[Model], **words: Unpack[FieldWords]) -> None:
        """Take the kind of thing that is asked for."""
        words.setdefault("max_length", 20)
        super().__init__(**words)
        self.kind = kind

    def clean(self, value: object) -> object:
        """Find the thing."""
        text = super().clean(value)
        return thing_of(self.kind, text) if text else None


class CodesField(forms.CharField):
    """Several things of one kind, by their codes, one a line or with commas between."""

    widget = forms.Textarea

    def __init__(self, *, kind: type[Model], **words: Unpack[FieldWords]) -> None:
        """Take the kind of thing that is asked for."""
        words.setdefault("max_length", 20_000)
        super().__init__(**words)
        self.kind = kind

    def clean(self, value: object) -> object:
        """Find the things, each named once."""
        text = super().clean(value)
        named = [part.strip() for part in _SEPARATORS.split(text) if part.strip()]
        return list(dict.fromkeys(thing_of(self.kind, code) for code in named))


class FittingsField(forms.CharField):
    """Lots of fittings with how many of each: "F-12, F-13 x 2"."""

    def clean(self, value: object) -> object:
        """Return pairs of lot and count; a lot without a count is one fitting."""
        text = super().clean(value)
        named = [part.strip() for part in _SEPARATORS.split(text) if part.strip()]
        return [_lot_and_count(part) for part in named]


def thing_of(kind: type[Model], code: str) -> Model:
    """Return the thing with this code.

    Raises:
        ValidationError: there is none, or it is of another kind.
    """
    thing = find_thing(code)
    if not isinstance(thing, kind):
        message = f"“{code}” is no {_NOUNS.get(kind, kind._meta.verbose_name)} on record."
        raise ValidationError(message)
    return thing


def _lot_and_count(text: str) -> tuple[Model, int]:
    match = _LOT_AND_COUNT.fullmatch(text)
    if match is None:
        message = f"“{text}” was not understood; write F-12 x 2."
        raise ValidationError(message)
    return thing_of(FittingLot, match["code"]), int(match["count"] or 1)
