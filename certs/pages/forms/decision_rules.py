"""Reads a decision rule to be chosen, and the question of what a measurement would tell."""

from typing import Any

from django import forms

from certs.models import DecisionRule
from certs.queries.decision_rules import decision_rules
from certs.queries.what_if import Asked, Production
from inventory.models import Party
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.quantities import ForceField
from inventory.queries.registers import machines, parties


class ChooseRuleForm(Ask):
    """How the uncertainty of a measurement is to count."""

    name = forms.CharField(max_length=80, help_text="What it is called here and on paper.")
    kind = forms.ChoiceField(
        label="Guard band",
        choices=DecisionRule.Kind.choices,
        widget=forms.RadioSelect,
        help_text="Without a band a value on the limit is wrong as often as right. With w = U at"
        " most 2.5 % of what is accepted on the acceptance limit is wrong (ILAC-G8:09/2019).",
    )
    multiple = forms.CharField(
        label="r in w = r U",
        required=False,
        max_length=20,
        help_text="For a guard band only: 1, or 0.83 for about 5 %.",
    )
    agreed_with = forms.ModelChoiceField(
        label="Agreed with",
        queryset=parties(kind=Party.Kind.CUSTOMER),
        required=False,
        empty_label="a rule of the house, for anyone",
        help_text="The customer or whoever else is to rest on it.",
    )
    paper = forms.CharField(
        label="Where it is laid down",
        max_length=200,
        help_text="The order, contract or instruction, with its clause.",
    )


class WhatIfForm(Ask):
    """A measurement that has not been made."""

    machine = forms.ModelChoiceField(
        queryset=machines(), label="Testing machine", to_field_name="code"
    )
    measured_n = ForceField(label="Force it would show", help_text="In kN or with a unit.")
    required_n = ForceField(label="Required at least", help_text="In kN or with a unit: 40 kN.")
    upper_n = ForceField(
        label="Allowed at most",
        required=False,
        help_text="In kN or with a unit. Empty: no upper limit.",
    )
    decision_rule = forms.ModelChoiceField(
        queryset=decision_rules(),
        label="Decision rule",
        required=False,
        to_field_name="code",
        empty_label="the standard’s own",
    )
    mean_n = ForceField(
        label="Mean of the production",
        required=False,
        help_text="With its deviation, for the risks over all that is made.",
    )
    sd_n = ForceField(
        label="Standard deviation of the production",
        required=False,
        help_text="In kN or with a unit: 1.2 kN.",
    )

    def clean(self) -> dict[str, Any]:
        """Mean and deviation come together."""
        asked = super().clean() or {}
        given = [asked.get(name) is not None for name in ("mean_n", "sd_n")]
        if any(given) and not all(given):
            missing = "sd_n" if given[0] else "mean_n"
            self.add_error(missing, "Mean and standard deviation belong together.")
        return asked

    @property
    def asked(self) -> Asked:
        """What was read, as the query asks for it."""
        values = dict(self.cleaned_data)
        mean_n, sd_n = values.pop("mean_n"), values.pop("sd_n")
        production = None if mean_n is None or sd_n is None else Production(mean_n, sd_n)
        return Asked(**values, production=production)
