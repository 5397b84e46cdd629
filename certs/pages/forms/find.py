"""Reads what a list or the trace is to be searched for; an address can hold all of it."""

from django import forms

from certs.models import Certificate
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import LengthField


class SearchForm(Ask):
    """Words that must all stand in a row."""

    q = forms.CharField(
        label="Search", required=False, max_length=80, help_text="Words that must all stand in it."
    )

    @property
    def words(self) -> str:
        """The words asked for; none if they could not be read."""
        return str(self.cleaned_data.get("q", "")) if self.is_valid() else ""


class CertificateSearchForm(SearchForm):
    """Words, and the state of a certificate."""

    state = forms.ChoiceField(
        label="State", required=False, choices=[("", "any"), *Certificate.State.choices]
    )

    @property
    def chosen_state(self) -> str:
        """The state asked for; empty: any."""
        return str(self.cleaned_data.get("state", "")) if self.is_valid() else ""


class TraceForm(Ask):
    """What stands on the thing, the paper or the tag."""

    code = forms.CharField(
        label="Code, heat number, certificate number or tag",
        max_length=60,
        help_text="For example P-00012, R-3, A-00004, AT-2026-00001, a mill’s heat number, or the"
        " code on a tag.",
    )
    at_mm = LengthField(
        label="At metre",
        required=False,
        help_text="A point: from the near end of a piece, or on a reel’s own scale.",
    )
    on = forms.DateField(
        label="As known on",
        required=False,
        widget=forms.DateInput({"type": "date"}),
        help_text="A past day: what was recorded after it is left out.",
    )
    from_mm = LengthField(
        label="From metre",
        required=False,
        help_text="Of a reel: only what was made from these metres.",
    )
    to_mm = LengthField(label="To metre", required=False, help_text="In metres, on the same scale.")


class RecallForm(Ask):
    """What is in doubt: a heat, a lot of fittings, or a reel or some metres of it."""

    code = forms.CharField(
        label="Heat, fitting lot, reel or piece in doubt",
        max_length=60,
        help_text="A code (H-…, F-…, R-…, P-…) or a mill’s heat number.",
    )
    from_mm = LengthField(
        label="From metre",
        required=False,
        help_text="For a reel: metres from its free end. Left empty: the whole reel.",
    )
    to_mm = LengthField(label="To metre", required=False, help_text="In metres, on the same scale.")


class AroundForm(Ask):
    """A point of a reel, and how far to look to both sides."""

    code = forms.CharField(label="Reel", max_length=20, help_text="Its code: R-…")
    metre_mm = LengthField(label="At metre", help_text="From the reel’s free end.")
    span_mm = LengthField(
        label="To both sides", initial=10_000, help_text="How far to look, in metres."
    )
