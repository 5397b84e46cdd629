"""Reads in which language papers and letters are written to a customer."""

from django import forms

from inventory.pages.forms.asking import Ask
from inventory.rules.paper_language import paper_choices


class PartyLanguageForm(Ask):
    """The language of papers and letters from now on."""

    language = forms.ChoiceField(
        choices=paper_choices,
        label="Papers and letters in",
        help_text="With the English beneath, which governs. A draft may choose otherwise.",
    )
