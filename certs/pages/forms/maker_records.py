"""Reads how sure a maker's record is to be: share, confidence, uncertainty of a test."""

from decimal import Decimal

from django import forms

from certs.rules.maker_record import CONFIDENCES, COVERAGES
from inventory.pages.forms.asking import Ask

USUAL = "0.95"
_MOST_PERCENT = 50


def _percent(shares: tuple[Decimal, ...]) -> list[tuple[str, str]]:
    return [(str(share), f"{share * 100:.0f} %") for share in shares]


class MakerRecordForm(Ask):
    """What the lower limit is to hold for; an address can hold all of it."""

    coverage = forms.ChoiceField(
        label="Share of such rope", choices=_percent(COVERAGES), required=False
    )
    confidence = forms.ChoiceField(
        label="With confidence", choices=_percent(CONFIDENCES), required=False
    )
    uncertainty_pct = forms.DecimalField(
        label="Uncertainty of a test, U in % (k = 2)",
        required=False,
        min_value=Decimal(0),
        max_value=_MOST_PERCENT,
        help_text="The expanded uncertainty as the paper states it: 0.5.",
    )

    def share(self, name: str) -> Decimal:
        """The share chosen; 95 % where none was, or none that is offered."""
        chosen = self.cleaned_data.get(name) if self.is_valid() else None
        return Decimal(chosen or USUAL)

    @property
    def uncertainty(self) -> Decimal | None:
        """The expanded uncertainty in per cent; None where none was given."""
        return self.cleaned_data.get("uncertainty_pct") if self.is_valid() else None
