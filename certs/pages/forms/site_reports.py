"""Reads what is reported from site, by anyone, and what the house decides about it."""

from typing import Any, Final

from django import forms

from certs.models import SiteReport
from certs.services.report_from_site import MAX_PHOTOS
from inventory.documents.photograph import MAX_PHOTO_BYTES, Photograph, take_photograph
from inventory.pages.forms.asking import Ask
from inventory.queries.hold_subject import Holdable, holdable_of_code
from inventory.rules.refusal import Refusal

PHOTO_NAMES: Final = tuple(f"photo_{place}" for place in range(1, MAX_PHOTOS + 1))


# Without figures that change: each is said in every language of the tag.
_NO_NUL: Final = {
    "null_characters_not_allowed": "Take out the invisible character (NUL) and send it again."
}
_CHOOSE: Final = "Choose what is wrong."
_SAY: Final = "Say what you saw; a few words are enough."
_NOT_ARRIVED: Final = "The file did not arrive; choose it again."


class PhotoField(forms.FileField):
    """A photograph, read into a bare picture."""

    widget = forms.FileInput(attrs={"accept": "image/jpeg,image/png"})

    def clean(self, data: Any, initial: Any = None) -> Photograph | None:  # noqa: ANN401 -- Django’s own signature
        """Take the photograph; say beside the field why it cannot be taken."""
        sent = super().clean(data, initial)
        if not sent:
            return None
        try:
            # One byte more than may be: enough to see that it is too large.
            return take_photograph(sent.read(MAX_PHOTO_BYTES + 1))
        except Refusal as refusal:
            raise forms.ValidationError(refusal.message) from refusal


class SiteReportForm(Ask):
    """What someone on site saw. `trap` is not shown; only programs fill it in."""

    kind = forms.ChoiceField(
        label="What is wrong?",
        choices=SiteReport.Kind.choices,
        widget=forms.RadioSelect,
        error_messages={"required": _CHOOSE, "invalid_choice": _CHOOSE},
    )
    words = forms.CharField(
        label="What did you see, and where on it?",
        max_length=2000,
        widget=forms.Textarea(attrs={"rows": 5}),
        help_text="What happened, the load, when you saw it. Write no names.",
        error_messages={
            "required": _SAY,
            "max_length": "Shorten it to 2000 characters.",
            **_NO_NUL,
        },
    )
    contact = forms.CharField(
        label="How can we reach you?",
        max_length=200,
        required=False,
        help_text="Telephone or e-mail, only so that we can ask back. You may leave it empty.",
        error_messages={"max_length": "Shorten it to 200 characters.", **_NO_NUL},
    )
    trap = forms.CharField(label="Leave this empty", required=False, error_messages=_NO_NUL)

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Add the places for photographs."""
        super().__init__(*args, **kwargs)
        for place, name in enumerate(PHOTO_NAMES, 1):
            self.fields[name] = PhotoField(
                label=f"Photograph {place}",
                required=False,
                allow_empty_file=True,
                error_messages={"invalid": _NOT_ARRIVED, "missing": _NOT_ARRIVED},
            )

    @property
    def photo_fields(self) -> list[forms.BoundField]:
        """The places for photographs, as the page shows them together."""
        return [self[name] for name in PHOTO_NAMES]

    @property
    def values(self) -> dict[str, Any]:
        """What was read, the photographs as one list."""
        read = self.cleaned_data
        photos = [read[name] for name in PHOTO_NAMES if read.get(name)]
        return {name: read[name] for name in ("kind", "words", "contact")} | {"photos": photos}

    def clean_trap(self) -> str:
        """Refuse a program that fills in everything; a person reads why."""
        if self.cleaned_data["trap"]:
            message = "This field is a trap for programs. Empty it and send the report again."
            raise forms.ValidationError(message)
        return ""


class HeldCodeField(forms.CharField):
    """Something that can be put on hold, by its code."""

    def clean(self, value: Any) -> Holdable | None:  # noqa: ANN401 -- Django’s own signature
        """Find the thing."""
        text = super().clean(value)
        thing = holdable_of_code(text)
        if thing is None:
            message = (
                f"“{text}” is no heat, reel, piece, assembly, fitting lot or testing machine on"
                " record."
            )
            raise forms.ValidationError(message)
        return thing


class HoldReportedForm(Ask):
    """What is in doubt after a report."""

    subject = HeldCodeField(
        label="Put on hold",
        max_length=20,
        help_text="The item itself, or what it was made of: its reel, a lot of fittings, a heat."
        " Everything made from it is held with it.",
    )
    reason = forms.CharField(
        max_length=300,
        widget=forms.Textarea(attrs={"rows": 3}),
        label="What is in doubt",
        help_text="Whoever meets the hold reads this. Write no names.",
    )


class CloseReportForm(Ask):
    """What was found out."""

    reason = forms.CharField(
        max_length=400,
        widget=forms.Textarea(attrs={"rows": 4}),
        label="What was found out, and what was done",
        help_text="It stays on record beside the report.",
    )


class ForgetForm(Ask):
    """Nothing is asked for."""


class ReportFilter(Ask):
    """Which reports to list."""

    state = forms.ChoiceField(
        required=False, choices=[("", "open"), ("closed", "closed"), ("all", "all")]
    )
