"""Reads a photograph of a tag, a label or a paper into the text of the code that it shows."""

from typing import Any

from django import forms

from inventory.documents.code_photo import read_code_from_photo
from inventory.documents.photograph import MAX_PHOTO_BYTES
from inventory.pages.forms.asking import Ask
from inventory.rules.refusal import Refusal

_MB = 1024 * 1024


class CodePhotoField(forms.FileField):
    """A photograph, read into the text of its QR; nothing of the picture is kept."""

    widget = forms.FileInput(attrs={"accept": "image/jpeg,image/png"})

    def clean(self, data: Any, initial: Any = None) -> str:  # noqa: ANN401 -- Django’s own signature
        """Read the code; say beside the field why none can be read."""
        sent = super().clean(data, initial)
        try:
            # One byte more than may be: enough to see that it is too large.
            text = read_code_from_photo(sent.read(MAX_PHOTO_BYTES + 1))
        except Refusal as refusal:
            raise forms.ValidationError(refusal.message) from refusal
        if text is None:
            message = (
                "No QR could be read in this photograph. Go nearer, keep the light off the metal,"
                " or type the code that stands beside it."
            )
            raise forms.ValidationError(message)
        return text


class FindByPhotoForm(Ask):
    """A photograph of a tag."""

    photograph = CodePhotoField(
        label="A photograph of a tag, a label or a paper",
        help_text=f"JPEG or PNG, at most {MAX_PHOTO_BYTES // _MB} MB. It is read and not kept.",
    )
