"""Decides what is asked for about cuts: a piece to cut, a cut to take back, a piece returned."""

from collections.abc import Mapping

from django import forms
from django.http import QueryDict

from inventory.models import CutPiece, Reel
from inventory.pages.acting import Files
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.lines import LineField
from inventory.pages.forms.quantities import LengthField
from inventory.queries.registers import lines_for_rope

_PURPOSES = [
    (purpose.value, purpose.label) for purpose in CutPiece.Purpose if purpose.value != "rewind"
]


class CutForm(Ask):
    """A piece to be cut from a reel."""

    keeps_units = True

    order_line = LineField(
        lines_for_rope(""),
        required=False,
        empty_label="for no order",
        help_text="Lines that ask for this rope. The line gives the ordered length and tolerances.",
    )
    length_mm = LengthField(
        label="Length to cut",
        help_text="In metres, or with a unit: 12.5, 41 ft. It is cut as one length.",
    )
    purpose = forms.ChoiceField(choices=_PURPOSES)
    from_mm = LengthField(
        required=False,
        label="From metre",
        help_text="Leave empty for the first free metres from the free end that give the length.",
    )
    ordered_length_mm = LengthField(
        required=False, label="Ordered length", help_text="In metres, or with a unit: 12.5, 41 ft."
    )
    tolerance_minus_mm = LengthField(
        required=False,
        empty=0,
        label="May be shorter by",
        help_text="In metres, or with a unit: 20 mm. Empty: nothing.",
    )
    tolerance_plus_mm = LengthField(
        required=False,
        empty=0,
        label="May be longer by",
        help_text="In metres, or with a unit: 20 mm. Empty: nothing.",
    )
    near_end = forms.ChoiceField(
        choices=CutPiece.EndFinish.choices, help_text="The end towards metre 0 of the reel."
    )
    far_end = forms.ChoiceField(
        choices=CutPiece.EndFinish.choices, help_text="The end away from metre 0."
    )
    note = forms.CharField(max_length=200, required=False)

    def __init__(
        self,
        data: QueryDict | None = None,
        files: Files | None = None,
        *,
        reel: Reel,
        initial: Mapping[str, object] | None = None,
    ) -> None:
        """Offer the order lines that ask for the rope on this reel."""
        super().__init__(data, files, initial=dict(initial or {}))
        field = self.fields["order_line"]
        if isinstance(field, LineField):
            field.queryset = lines_for_rope(reel.designation)


class ReverseForm(Ask):
    """Why a cut is taken back."""

    reason = forms.CharField(
        max_length=300,
        widget=forms.Textarea({"rows": 3}),
        help_text="It stays beside the cut for good. Reverse only what was never parted.",
    )


class TakeBackForm(Ask):
    """A delivered piece that came back."""

    from_mm = LengthField(
        required=False,
        empty=0,
        label="Returned part from",
        help_text="Metres along the piece from its near end; leave both empty for all of it.",
    )
    to_mm = LengthField(
        required=False, label="Returned part to", help_text="In metres, from the same end: 12.5."
    )
    is_turned = forms.TypedChoiceField(
        label="Which end is free now",
        choices=[
            ("no", "the near end, as it was cut"),
            ("yes", "the far end: it was turned"),
        ],
        coerce=lambda text: text == "yes",
    )
    location = forms.CharField(max_length=60, required=False, help_text="Where it stands now.")
