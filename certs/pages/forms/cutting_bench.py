"""Reads what is asked for at the cutting bench: the reel, the next length, the stock of labels."""

from collections.abc import Mapping
from typing import Any, Final

from django import forms
from django.http import QueryDict

from inventory.documents.tag_label import SHEETS
from inventory.models import CutPiece, Reel
from inventory.pages.acting import Files
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.lines import LineField
from inventory.pages.forms.quantities import LengthField
from inventory.queries.registers import lines_for_rope

# What a length is cut for stays as it is from cut to cut, in the address.
STAYS: Final = ("purpose", "order_line", "near_end", "far_end")
# A sheet of many would be wasted on the one label of one piece.
SINGLE: Final = [(key, stock.name) for key, stock in SHEETS.items() if stock.per_page == 1]

_SCANNED = {"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false"}
_PURPOSES = [one for one in CutPiece.Purpose.choices if one[0] != CutPiece.Purpose.REWIND]


class ReelForm(Ask):
    """The reel on the bench."""

    reel = forms.CharField(
        label="Reel",
        max_length=500,
        widget=forms.TextInput({**_SCANNED, "autofocus": True}),
        help_text="Scan its label, or type its code (R-00012) or the mill’s reel number.",
    )


class BenchForm(Ask):
    """The next length off the reel; what else is asked of it seldom changes."""

    keeps_units = True

    length_mm = LengthField(
        label="Length to cut",
        max_length=500,
        help_text="In metres, or with a unit: 12.5, 12,5 m, 40 ft. Another reel’s label, scanned"
        " here, changes the reel.",
        widget=forms.TextInput({**_SCANNED, "autofocus": True, "inputmode": "text"}),
    )
    purpose = forms.ChoiceField(choices=_PURPOSES, initial=CutPiece.Purpose.SUPPLY)
    order_line = LineField(
        lines_for_rope(""),
        required=False,
        empty_label="for no order",
        help_text="The line gives the ordered length and its tolerances.",
    )
    near_end = forms.ChoiceField(
        choices=CutPiece.EndFinish.choices, help_text="The end towards metre 0 of the reel."
    )
    far_end = forms.ChoiceField(
        choices=CutPiece.EndFinish.choices, help_text="The end away from metre 0."
    )

    def __init__(
        self,
        data: QueryDict | None = None,
        files: Files | None = None,
        *,
        reel: Reel,
        initial: Mapping[str, object],
    ) -> None:
        """Offer the order lines that ask for the rope on this reel."""
        super().__init__(data, files, initial=dict(initial))
        field = self.fields["order_line"]
        if isinstance(field, LineField):
            field.queryset = lines_for_rope(reel.designation)


class ReelStockForm(Ask):
    """What a reel's label is printed on."""

    sheet = forms.ChoiceField(label="Print on", choices=SINGLE, initial="roll-100")


class StockForm(Ask):
    """What a label is printed on, and for which piece."""

    sheet = forms.ChoiceField(label="Labels on", choices=SINGLE)
    things = forms.CharField(widget=forms.HiddenInput, max_length=20)

    @property
    def values(self) -> dict[str, Any]:
        """The code as a list of one, the stock, and nothing to skip: one label is one page."""
        return {"things": [self.cleaned_data["things"]], "sheet": self.cleaned_data["sheet"]}
