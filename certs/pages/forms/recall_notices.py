"""Reads what a recall is to say, and what became of its letters."""

from django import forms

from certs.services.recall_notices import LONGEST_WORDS
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.moments import MomentField


class LettersForm(Ask):
    """What the customers are told."""

    words = forms.CharField(
        max_length=LONGEST_WORDS,
        widget=forms.Textarea(attrs={"rows": 4}),
        label="What is in doubt, as customers read it",
        help_text="It stands in every letter. The items, their tags and papers, and what to do now"
        " are written by themselves.",
    )


class SentForm(Ask):
    """How a letter left the house."""

    how = forms.CharField(
        max_length=120, label="How it was sent", help_text="By post, by e-mail to …, by hand."
    )


class AnswerForm(Ask):
    """The answer of a customer."""

    who = forms.CharField(
        max_length=120, label="Who answered", help_text="A name, or the office that did."
    )
    when = MomentField(label="When", help_text="Date and time, in your time zone.")
    note = forms.CharField(
        max_length=400,
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        label="What was found",
        help_text="Which items are out of use, which were not found, which were passed on.",
    )


class NoticeFilter(Ask):
    """Which letters to list."""

    state = forms.ChoiceField(
        required=False,
        choices=[("", "without an answer"), ("answered", "answered"), ("all", "all")],
    )
