"""Reads which drafts are to be issued together, and for which things drafts are to be made."""

from collections.abc import Sequence
from typing import Any

from django import forms

from certs.models import Certificate
from inventory.models import Assembly, CutPiece
from inventory.pages.forms.asking import Ask

# Beside the drafts that are ticked: all that the list holds, on every page of it.
ALL = "all"


class OfForm(forms.Form):
    """What the drafts, or the papers to be drafted, belong to."""

    of = forms.CharField(
        label="Of",
        max_length=20,
        required=False,
        help_text="An order (O-…), a delivery (V-…), a reel (R-…), a piece or an assembly.",
    )

    @property
    def code(self) -> str:
        """The code asked for; empty: everything."""
        return str(self.cleaned_data["of"]).strip() if self.is_valid() else ""


class SeveralForm(Ask):
    """Drafts to issue together, by their codes."""

    def __init__(self, *args: Any, listed: Sequence[Certificate], **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Offer the drafts of the list; with the button for all of them nothing need be ticked."""
        super().__init__(*args, **kwargs)
        self.listed = [draft.draft_code for draft in listed]
        choices = [(code, code) for code in self.listed]
        self.fields["drafts"] = forms.MultipleChoiceField(choices=choices, required=False)

    @property
    def values(self) -> dict[str, Any]:
        """The codes in the order of the list."""
        if ALL in self.data:
            return {"draft_codes": self.listed}
        chosen = set(self.cleaned_data["drafts"])
        return {"draft_codes": [code for code in self.listed if code in chosen]}


class EachForm(Ask):
    """Pieces and assemblies that each get a paper of their own."""

    def __init__(self, *args: Any, listed: Sequence[CutPiece | Assembly], **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Offer the things of the list."""
        super().__init__(*args, **kwargs)
        self.listed = {thing.code: thing for thing in listed}
        choices = [(code, code) for code in self.listed]
        self.fields["things"] = forms.MultipleChoiceField(choices=choices, required=False)

    @property
    def values(self) -> dict[str, Any]:
        """The things in the order of the list."""
        chosen = set(self.cleaned_data["things"])
        return {"things": [thing for code, thing in self.listed.items() if code in chosen]}
