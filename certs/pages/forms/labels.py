"""Reads what labels are printed for, on which sheet."""

import re
from typing import Any

from django import forms

from inventory.pages.forms.asking import Ask
from inventory.rules.label_stock import STOCKS

_SEPARATORS = re.compile(r"[\s,;]+")


class LabelsForm(Ask):
    """Things to label, a sheet, and how many of its places are used already."""

    things = forms.CharField(
        label="Pieces and assemblies",
        max_length=20_000,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="Codes (P-…, A-…), one a line or with commas between; or scan the label or tag"
        " of each. A reel (R-…), order (O-…)"
        " or delivery (V-…) stands for its pieces for supply.",
    )
    sheet = forms.ChoiceField(
        label="Label",
        choices=[(key, stock.name) for key, stock in STOCKS.items()],
        widget=forms.RadioSelect,
        initial="a4-medium",
        help_text="The module is the small square of the code. A camera needs 0.5 mm, and no more"
        " than ten times the width of the code between (common practice, no source).",
    )
    skip = forms.IntegerField(
        label="Places to skip",
        min_value=0,
        initial=0,
        help_text="On a sheet that was begun: how many labels are gone from it. 0 on a roll.",
    )

    @property
    def values(self) -> dict[str, Any]:
        """The codes apart, the sheet and the places to skip."""
        codes = [code for code in _SEPARATORS.split(self.cleaned_data["things"]) if code]
        return {**self.cleaned_data, "things": codes}
