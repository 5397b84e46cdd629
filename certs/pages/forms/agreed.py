"""Reads an agreed specification; whether its figures can be is decided by the rules."""

from django import forms

from inventory.models import Party
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import ForceField


class FigureField(forms.CharField):
    """A number kept as written, with a point for the decimals."""

    def to_python(self, value: object) -> str:
        """Read a decimal comma as the point that it stands for."""
        return str(super().to_python(value)).replace(",", ".")


class AgreedForm(Ask):
    """What two parties agreed on for one rope: a factor or a force, and what they add."""

    keeps_units = True

    name = forms.CharField(max_length=80, help_text="How the agreement is called on papers.")
    edition = forms.CharField(max_length=40, help_text="Its date or issue, as on the paper.")
    agreed_with = forms.ModelChoiceField(
        queryset=Party.objects.order_by("name"), help_text="The mill or the customer."
    )
    paper = forms.CharField(
        max_length=200, help_text="The signed paper that holds the agreement, and where it is kept."
    )
    designation = forms.CharField(
        label="Rope designation",
        max_length=80,
        help_text="EN 12385-2 order: diameter, construction-core, grade, finish, lay:"
        " 8 6x7-WSC 1770 B sZ.",
    )
    factor_k = FigureField(
        label="Factor K",
        max_length=12,
        required=False,
        help_text="Minimum breaking force K d² Rr / 1000 (EN 12385-2). Give this or a force.",
    )
    force_n = ForceField(
        label="Minimum breaking force", required=False, help_text="In kN unless a unit is written."
    )
    factor_w = FigureField(
        label="Mass factor W",
        max_length=12,
        required=False,
        help_text="Mass in kg per 100 m is W d² (EN 12385-2).",
    )
    diameter_minus_pct = FigureField(
        label="Diameter, per cent below nominal",
        max_length=8,
        required=False,
        help_text="In % of the nominal diameter: 0.",
    )
    diameter_plus_pct = FigureField(
        label="Diameter, per cent above nominal",
        max_length=8,
        required=False,
        help_text="In % of the nominal diameter: 5.",
    )
    mass_minus_pct = FigureField(
        label="Mass, per cent below W d²",
        max_length=8,
        required=False,
        help_text="W is the mass factor agreed, else that of the rope’s class. A reel checked under"
        " this agreement is held to both limits, as weighed and as declared.",
    )
    mass_plus_pct = FigureField(
        label="Mass, per cent above W d²",
        max_length=8,
        required=False,
        help_text="In % of the calculated mass: 5.",
    )
