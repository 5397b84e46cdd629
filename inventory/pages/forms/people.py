"""Decides what is asked for about the people who sign in."""

from django import forms

from inventory.pages.forms.asking import Ask
from inventory.rules.roles import Role


class PersonForm(Ask):
    """A person to register."""

    username = forms.CharField(
        max_length=150,
        label="User name",
        help_text="What is typed to sign in. It cannot be changed: the journal rests on it.",
        widget=forms.TextInput({"autocomplete": "off"}),
    )
    full_name = forms.CharField(
        max_length=250, help_text="As it is to stand on papers that this person signs."
    )
    role = forms.TypedChoiceField(choices=[(role.value, role.words) for role in Role], coerce=Role)
    password = forms.CharField(
        label="First pass phrase",
        max_length=200,
        strip=False,
        widget=forms.PasswordInput({"autocomplete": "new-password"}),
        help_text="At least 12 characters.",
    )


class RoleForm(Ask):
    """Another role for a person."""

    role = forms.TypedChoiceField(choices=[(role.value, role.words) for role in Role], coerce=Role)


class NothingForm(Ask):
    """An act that needs no facts: it is only confirmed."""
