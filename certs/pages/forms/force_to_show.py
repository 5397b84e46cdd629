"""Reads the question of what a testing machine must show for a proof load."""

from django import forms

from inventory.models import Assembly
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.codes import CodeField
from inventory.pages.forms.quantities import ForceField
from inventory.queries.registers import machines


class ForceToShowForm(Ask):
    """A proof load that has not been put on yet."""

    machine = forms.ModelChoiceField(
        queryset=machines(), label="Testing machine", to_field_name="code"
    )
    required_n = ForceField(
        label="Proof load", help_text="In kN unless a unit is written: 40, 4 tf."
    )
    ceiling_n = ForceField(
        label="Not to be exceeded",
        required=False,
        help_text="In kN unless a unit is written, where a rule sets an upper limit.",
    )
    assembly = CodeField(
        kind=Assembly,
        required=False,
        help_text="Its code: A-… Hand splices bring an upper limit of their own.",
    )
