"""Reads what the journal is to be narrowed to."""

from django import forms

from certs.rules.roles import ClaimAct
from inventory.pages.forms.asking import Ask
from inventory.rules.roles import Act

_ACTS = sorted(act.value for act in (*Act, *ClaimAct) if act is not Act.READ_RECORD)


class JournalFilter(Ask):
    """The thing acted on, and the act."""

    subject = forms.CharField(label="Code of the thing", required=False, max_length=40)
    act = forms.ChoiceField(
        label="Act",
        required=False,
        choices=[("", "any"), *((act, act.replace("_", " ")) for act in _ACTS)],
    )
