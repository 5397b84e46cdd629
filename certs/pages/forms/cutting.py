"""Decides what is asked for about a cutting plan: how it is made, and which cuts are booked."""

import re

from django import forms

from inventory.models import Reel
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import LengthField
from inventory.pages.forms.rows import rows_of

MOST_ROWS = 200
_CODES = re.compile(r"[\s,;]+")
# A habit of no source, put there to be changed: what counts as scrap is each house's own choice.
USUAL_SHORTEST_MM = 5_000


class PlanForm(Ask):
    """What a proposal is to mind; read from the address, so that it can be sent on."""

    shortest_usable_mm = LengthField(
        required=False,
        empty=0,
        label="Shortest length still of use",
        help_text="A shorter remnant is scrap to you, and the proposal avoids leaving one."
        " Enter your own; left empty, every remnant is of use.",
    )
    without = forms.CharField(
        max_length=2000,
        required=False,
        label="Leave out these reels",
        help_text="Codes R-…, with commas between: reels that are not to be cut for this order.",
    )

    def clean_without(self) -> tuple[str, ...]:
        """Read the codes as they stand on the reels."""
        text = self.cleaned_data["without"].upper()
        codes = tuple(dict.fromkeys(code for code in _CODES.split(text) if code))
        on_record = set(Reel.objects.filter(code__in=codes).values_list("code", flat=True))
        unknown = [code for code in codes if code not in on_record]
        if unknown:
            raise forms.ValidationError(f"“{unknown[0]}” is no reel (R-…) on record.")
        return codes


class BookForm(Ask):
    """Nothing but the button; what the service refuses is shown on it."""


class CutRow(Ask):
    """One piece of a plan, as proposed or changed."""

    line = forms.CharField(max_length=24, widget=forms.HiddenInput)
    length_mm = LengthField(label="Length", help_text="In metres, or with a unit: 12.5.")
    reel = forms.CharField(
        max_length=16, required=False, label="Reel", help_text="Its code: R-00012."
    )
    from_mm = LengthField(
        required=False, label="From metre", help_text="In metres from the free end as received."
    )

    # What the row is called on the page; set by it.
    line_word = ""

    def clean_reel(self) -> str:
        """Read the code as it stands on the reel."""
        return str(self.cleaned_data["reel"]).strip().upper()

    def label_fields(self, number: int) -> None:
        """Name the fields for those who hear the table instead of seeing it."""
        for name in ("length_mm", "reel", "from_mm"):
            field = self.fields[name]
            field.widget.attrs["aria-label"] = f"{field.label} of piece {number}"
        self.fields["reel"].widget.attrs["list"] = "offered-reels"


CutRows = rows_of(CutRow, most=MOST_ROWS)
