"""Decides what every field of our own may be told besides its special matter."""

from typing import TypedDict

from django.forms import Widget


class FieldWords(TypedDict, total=False):
    """The arguments that every field takes, as Django names them."""

    required: bool
    label: str
    help_text: str
    initial: object
    widget: Widget | type[Widget]
    max_length: int
    disabled: bool
