"""Reads an entry of the register of representatives."""

from django import forms

from certs.models import Representative
from inventory.pages.forms.asking import Ask
from inventory.queries.registers import people

_DATE = {"type": "date"}


class RepresentativeForm(Ask):
    """Who may validate, for whom, and between which days."""

    person = forms.ModelChoiceField(
        queryset=people(), help_text="Whoever signs: an account of this house."
    )
    capacity = forms.ChoiceField(
        label="In which capacity",
        choices=Representative.Capacity.choices,
        help_text="A 3.1 needs the manufacturer’s own; a 3.2 also the purchaser’s or an official"
        " inspector (EN 10204:2004, 4.1 and 4.2).",
    )
    organisation = forms.CharField(max_length=120, help_text="Whom the person represents.")
    is_independent = forms.BooleanField(
        label="Independent of the department that makes the product", required=False
    )
    valid_from_date = forms.DateField(
        label="First day", widget=forms.DateInput(attrs=_DATE, format="%Y-%m-%d")
    )
    valid_to_date = forms.DateField(
        label="Last day",
        required=False,
        widget=forms.DateInput(attrs=_DATE, format="%Y-%m-%d"),
        help_text="Left empty: until further notice.",
    )


class EndForm(Ask):
    """The last day on which a person may validate."""

    valid_to_date = forms.DateField(
        label="Last day",
        widget=forms.DateInput(attrs=_DATE, format="%Y-%m-%d"),
        help_text="The last on which this person may validate papers.",
    )
