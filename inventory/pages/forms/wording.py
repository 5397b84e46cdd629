"""Decides what a form says when a field cannot be read: what to do, not what is wrong.

What a rule refuses is said by the rule; this stands in for the framework's own words.
"""

from collections.abc import Iterable

from django import forms

_TAKEN_OUT = "Take out the invisible character (NUL) and send it again."
# By the code under which the framework complains; where a field says something of its own, that
# stands.
_OF_ALL = {
    "max_length": "Shorten it to %(limit_value)d characters; it has %(show_value)d.",
    "min_length": "Write %(limit_value)d characters or more; it has %(show_value)d.",
    "min_value": "Enter %(limit_value)s or more.",
    "max_value": "Enter %(limit_value)s or less.",
    "max_digits": "Write it with at most %(max)s digits.",
    "max_decimal_places": "Write it with at most %(max)s decimals.",
    "max_whole_digits": "Write it with at most %(max)s digits before the point.",
    "null_characters_not_allowed": _TAKEN_OUT,
}
_OF_A_CHOICE = {
    "invalid_choice": "“%(value)s” is none of the choices; choose one of the list.",
    "invalid_list": "Choose from the list.",
    "invalid_pk_value": "“%(pk)s” is none of the choices; choose from the list.",
}
_OF_A_FILE = {
    "invalid": "The file did not arrive; choose it again.",
    "missing": "The file did not arrive; choose it again.",
    "empty": "The file is empty; choose another.",
    "max_length": "The name of the file is too long; shorten it to %(max)d characters.",
}
# The special before the general: the first that a field is, counts.
_BY_FIELD: tuple[tuple[type[forms.Field], dict[str, str]], ...] = (
    (forms.DateTimeField, {"invalid": "Write day and time as 2026-11-25 14:05."}),
    (forms.DateField, {"invalid": "Write the day as 2026-11-25."}),
    (forms.DecimalField, {"invalid": "Write a number, such as 12 or 12.5."}),
    (forms.IntegerField, {"invalid": "Write a whole number, such as 12."}),
    (forms.FileField, _OF_A_FILE),
    (forms.ChoiceField, _OF_A_CHOICE),
    (forms.ModelChoiceField, _OF_A_CHOICE),
)


def say_what_to_do(fields: Iterable[tuple[str, forms.Field]]) -> None:
    """Give every field the words of this house, where it has none of its own."""
    for name, field in fields:
        label = field.label or name.replace("_", " ").capitalize()
        theirs = next((words for kind, words in _BY_FIELD if isinstance(field, kind)), {})
        framework = _defaults(type(field))
        for code, words in {"required": _asked(field, str(label)), **_OF_ALL, **theirs}.items():
            if str(field.error_messages.get(code, "")) == framework.get(code, ""):
                field.error_messages[code] = words


def _asked(field: forms.Field, label: str) -> str:
    if isinstance(field, forms.FileField):
        return f"Choose a file for “{label}”."
    if isinstance(field, forms.ChoiceField | forms.ModelChoiceField):
        return f"Choose one for “{label}”."
    if isinstance(field, forms.BooleanField):
        return f"Tick “{label}” if it is so; without it this cannot be done."
    return f"Enter “{label}”; it cannot be left empty."


def _defaults(kind: type[forms.Field]) -> dict[str, str]:
    """Return the framework's own words for a kind of field."""
    found: dict[str, str] = {}
    for ancestor in reversed(kind.__mro__):
        messages = vars(ancestor).get("default_error_messages", {})
        found |= {code: str(words) for code, words in messages.items()}
    return found
