"""Reads what is to stand at the head of the house's papers."""

from typing import Any

from django import forms

from certs.documents.logo import MAX_LOGO_BYTES
from certs.models import Letterhead
from certs.services.letterhead import HeadAsked
from inventory.pages.forms.asking import Ask


class LetterheadForm(Ask):
    """A letterhead; the logo of the last one stays unless another is handed in or it goes."""

    name = forms.CharField(max_length=120, help_text="Of the house, as in its register.")
    address = forms.CharField(
        max_length=400, widget=forms.Textarea({"rows": 4, "autocomplete": "off"})
    )
    contact = forms.CharField(
        required=False,
        max_length=400,
        widget=forms.Textarea({"rows": 3, "autocomplete": "off"}),
        help_text="Telephone, e-mail, web: line by line, as they are to be printed.",
    )
    registration = forms.CharField(
        required=False,
        max_length=200,
        help_text="What local law wants on a letter: register number, tax number.",
    )
    accreditation = forms.CharField(
        required=False,
        max_length=300,
        label="Accreditation or approval",
        help_text="In the words of the body that gave it, with number and scope. It is printed as"
        " it stands, and not checked; claim nothing that its scope does not name.",
    )
    logo = forms.FileField(
        required=False,
        label="Logo",
        widget=forms.FileInput({"accept": "image/png,image/jpeg"}),
        help_text="PNG or JPEG, at most 2 MB. It is printed at most 60 mm wide and 15 mm high.",
    )
    drops_logo = forms.BooleanField(required=False, label="Print no logo")

    def __init__(self, *args: Any, last: Letterhead | None, **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Take what the last letterhead says as a start."""
        self._last = last
        super().__init__(*args, **kwargs)
        if last is None or last.logo is None:
            del self.fields["drops_logo"]

    @property
    def values(self) -> dict[str, Any]:
        """What was read, as the service asks for it."""
        read = dict(self.cleaned_data)
        sent = read.pop("logo")
        drops = read.pop("drops_logo", False)
        kept = self._last.logo if self._last and not drops else None
        # One byte more than is allowed tells a file that is too large.
        content = sent.read(MAX_LOGO_BYTES + 1) if sent else b""
        return {"head": HeadAsked(**read, logo=kept, logo_sent=content)}
