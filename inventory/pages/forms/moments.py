"""Decides how an instant is typed: date and time in the zone of the one who types it."""

from typing import Any, TypedDict, Unpack

from django import forms
from django.utils import timezone

from inventory.pages.reading import present_zone


class MomentWords(TypedDict, total=False):
    """What an instant's field may be told; it has no length."""

    required: bool
    label: str
    help_text: str
    initial: object
    widget: forms.Widget


class MomentField(forms.DateTimeField):
    """A date and a time in the reader's zone, read into an instant."""

    def __init__(self, **words: Unpack[MomentWords]) -> None:
        """Ask for minutes, as the browser does."""
        words.setdefault(
            "widget", forms.DateTimeInput({"type": "datetime-local"}, "%Y-%m-%dT%H:%M")
        )
        super().__init__(**words)

    def to_python(self, value: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Read what was typed; without a zone it is in the reader's."""
        with timezone.override(present_zone()):
            return super().to_python(value)

    def prepare_value(self, value: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Write an instant as it is typed."""
        with timezone.override(present_zone()):
            return super().prepare_value(value)
