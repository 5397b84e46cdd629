"""Reads what a sling's strength is looked at with: a load to be marked, a lay as measured."""

from django import forms

from inventory.pages.forms.asking import Ask


class StrengthLookForm(Ask):
    """Figures to hold against the strength; nothing of them is kept."""

    marked_t = forms.DecimalField(
        required=False,
        min_value=0,
        max_digits=9,
        decimal_places=4,
        label="Load to be marked, t",
        help_text="What is to stand on its tag: it may never lie above what governs.",
    )
    lay_mm = forms.DecimalField(
        required=False,
        min_value=1,
        max_digits=7,
        decimal_places=1,
        label="One lay of its rope, mm",
        help_text="As measured, for rope whose maker states none: soft eyes are held against four"
        " of them.",
    )
