"""Decides how a form shows a refusal: beside the field it is about, everything typed kept."""

from typing import Any

from django import forms
from django.forms.utils import ErrorDict

from inventory.pages.forms.quantities import QuantityField
from inventory.pages.forms.wording import say_what_to_do
from inventory.rules.as_given import is_of_another_unit
from inventory.rules.refusal import Refusal


class Ask(forms.Form):
    """A form that reads text into the values of one service call, named as there."""

    # Whether the service keeps what was typed in another unit beside its own figures.
    keeps_units = False

    @property
    def values(self) -> dict[str, Any]:
        """What was read, ready to be handed to the service."""
        if self.keeps_units:
            return {**self.cleaned_data, "as_given": self.as_given}
        return self.cleaned_data

    @property
    def as_given(self) -> dict[str, str]:
        """What was typed as quantities in another unit than the record's, by field."""
        texts = {
            name: str(self[name].data or "")
            for name, field in self.fields.items()
            if isinstance(field, QuantityField)
        }
        return {name: text.strip() for name, text in texts.items() if is_of_another_unit(text)}

    def full_clean(self) -> None:
        """Read every field; what cannot be read is answered by what to do."""
        say_what_to_do(self.fields.items())
        super().full_clean()

    def read(self, name: str) -> Any:  # noqa: ANN401 -- a field reads what it is for
        """What was read of one field; None if it could not be read or was left empty."""
        self.is_valid()
        return self.cleaned_data.get(name) or None

    def refuse(self, refusal: Refusal) -> None:
        """Show why the service said no, at the field it named or else at the top."""
        name = refusal.field if refusal.field in self.fields else None
        self.add_error(name, refusal.message)

    def hush(self) -> None:
        """Keep what was typed and say nothing about what is missing: nobody is finished yet."""
        self._errors = ErrorDict()
        self.cleaned_data = {}
