"""Decides what is asked for at the gate: the code of the second step, and pass phrases."""

from typing import Any

from django import forms
from django.contrib.auth.forms import AuthenticationForm

from inventory.pages.forms.asking import Ask
from inventory.pages.forms.wording import say_what_to_do


class SignInForm(AuthenticationForm):
    """User name and pass phrase, in the words of this program."""

    # A closed account is answered in the same words, so that nobody learns which ones there are.
    _WRONG = "User name and pass phrase do not belong together. Capitals count in both."
    error_messages = {"invalid_login": _WRONG, "inactive": _WRONG}

    def __init__(self, *args: Any, **more: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Name the fields as the account page does."""
        super().__init__(*args, **more)
        self.fields["username"].label = "User name"
        self.fields["password"].label = "Pass phrase"
        say_what_to_do(self.fields.items())


class CodeForm(Ask):
    """Six digits of the app, or a recovery code."""

    code = forms.CharField(
        max_length=60,
        label="Code",
        help_text="The six digits that the app shows now; or one of your recovery codes.",
        widget=forms.TextInput({"autocomplete": "one-time-code", "autofocus": True}),
    )


class FirstCodeForm(Ask):
    """The first code of an app that was just told the secret."""

    code = forms.CharField(
        max_length=60,
        label="Code",
        help_text="The six digits that the app shows now.",
        widget=forms.TextInput({"autocomplete": "one-time-code", "inputmode": "numeric"}),
    )


def _phrase(label: str, autocomplete: str, help_text: str = "") -> forms.CharField:
    return forms.CharField(
        label=label,
        max_length=200,
        strip=False,
        help_text=help_text,
        widget=forms.PasswordInput({"autocomplete": autocomplete}),
    )


class OwnPhraseForm(Ask):
    """A new pass phrase of one's own."""

    former = _phrase("Pass phrase until now", "current-password")
    password = _phrase("New pass phrase", "new-password", "At least 12 characters.")


class NewPhraseForm(Ask):
    """A new pass phrase for somebody else."""

    password = _phrase("New pass phrase", "new-password", "At least 12 characters.")
