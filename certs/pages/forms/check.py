"""Reads what is handed in to be checked: a PDF, or the code that stands on a paper."""

from django import forms

from certs.documents.handed_in_paper import MOST_BYTES
from inventory.pages.forms.asking import Ask


class CheckForm(Ask):
    """A paper to be checked."""

    file = forms.FileField(
        label="The PDF of the certificate",
        required=False,
        allow_empty_file=True,
        widget=forms.FileInput(attrs={"accept": "application/pdf,.pdf"}),
        help_text=f"At most {MOST_BYTES // 1024**2} MB. It is looked at and not kept.",
    )
    code = forms.CharField(
        label="Or the code on the paper",
        required=False,
        max_length=40,
        widget=forms.TextInput(
            attrs={"autocomplete": "off", "autocapitalize": "characters", "spellcheck": "false"}
        ),
        help_text="16 signs in four groups, beside “Code”. It proves no file.",
    )

    def clean(self) -> None:
        """Ask for one of the two."""
        super().clean()
        if not self.errors and not (self.cleaned_data.get("file") or self.read("code")):
            raise forms.ValidationError("Choose a PDF or type a code.")
