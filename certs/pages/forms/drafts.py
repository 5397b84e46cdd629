"""Reads what a draft may choose; whether the evidence supports it is told by its checklist."""

from typing import Any

from django import forms

from certs.models import BreakingTest, Certificate
from certs.queries.claim_registers import representatives
from certs.queries.claims import breaking_test_of
from certs.rules.load_text import format_tonnes, read_load_kg
from certs.services.drafts import Wording
from inventory.models import Assembly, CutPiece, Party
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.codes import CodeField, CodesField
from inventory.pages.forms.quantities import QuantityField
from inventory.queries.registers import parties
from inventory.rules.paper_language import paper_choices

_KINDS = Certificate.DocumentKind
WORDING = (
    "customer", "customer_reference", "document_kind", "remarks", "first_validator",
    "second_validator", "marked_kg", "language",
)  # fmt: skip

_ASSEMBLY_KINDS = (
    _KINDS.DECLARATION.value,
    _KINDS.TEST_REPORT.value,
    _KINDS.CERTIFICATE_31.value,
    _KINDS.CERTIFICATE_32.value,
)
_NEED_VALIDATORS = frozenset({_KINDS.CERTIFICATE_31.value, _KINDS.CERTIFICATE_32.value})


class LoadField(QuantityField):
    """A load in whole kg, typed in tonnes unless a unit is written; rounded down."""

    read = staticmethod(read_load_kg)
    write = staticmethod(format_tonnes)


class WordingForm(Ask):
    """What goes on the paper beside what the record says."""

    customer = forms.ModelChoiceField(
        queryset=parties(kind=Party.Kind.CUSTOMER),
        required=False,
        label="Purchaser",
        empty_label="nobody named",
    )
    customer_reference = forms.CharField(
        label="Purchaser’s order reference", max_length=60, required=False
    )
    document_kind = forms.ChoiceField(
        label="Kind of document",
        choices=_KINDS.choices,
        help_text="What may leave the house follows from the evidence held (EN 10204:2004); the"
        " checklist of the draft says what this one lacks.",
    )
    remarks = forms.CharField(
        max_length=400, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )
    first_validator = forms.ModelChoiceField(
        queryset=representatives(),
        required=False,
        label="Inspection representative",
        empty_label="none",
        help_text="Asked for by 3.1 and 3.2: the manufacturer’s own, independent of the"
        " department that makes (EN 10204:2004, 4.1).",
    )
    second_validator = forms.ModelChoiceField(
        queryset=representatives(),
        required=False,
        label="Second representative",
        empty_label="none",
        help_text="Asked for by 3.2: the purchaser’s, or the inspector designated by regulation"
        " (EN 10204:2004, 4.2).",
    )

    marked_kg = LoadField(
        required=False,
        label="Working load limit to be marked",
        help_text="In t, unless you write kg, lb or short tons (2000 lb); rounded down to the kg."
        " Of several legs, that of the first band of angles rated. Never above what is derived;"
        " leave it empty where nothing else is marked.",
    )

    language = forms.ChoiceField(
        required=False,
        choices=[("", "that of the purchaser"), *paper_choices()],
        help_text="Labels, statements and cautions are printed in it with the English beneath,"
        " which governs. What is typed or derived stays English.",
    )

    kinds: tuple[str, ...] = tuple(_KINDS.values)

    def __init__(self, *args: Any, **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Offer only the kinds of document that go with the subject."""
        super().__init__(*args, **kwargs)
        field = self.fields["document_kind"]
        if isinstance(field, forms.ChoiceField):
            field.choices = [choice for choice in _KINDS.choices if choice[0] in self.kinds]

        if not _NEED_VALIDATORS.intersection(self.kinds):
            for name in ("first_validator", "second_validator"):
                del self.fields[name]
        if self.kinds != _ASSEMBLY_KINDS:
            del self.fields["marked_kg"]

    @property
    def values(self) -> dict[str, Any]:
        """The subject by its name, and the wording."""
        read = self.cleaned_data
        rest = {name: value for name, value in read.items() if name not in WORDING}
        wording = {name: read[name] for name in WORDING if name in read}
        return {**rest, "wording": Wording(**wording)}


class CutLengthDraftForm(WordingForm):
    """Which pieces go on one paper."""

    pieces = CodesField(
        kind=CutPiece,
        label="Cut pieces",
        help_text="Their codes (P-…), one a line or with commas between.",
    )

    kinds = (_KINDS.STATEMENT.value,)
    field_order = ("pieces", *WORDING)


class AssemblyDraftForm(WordingForm):
    """Which assembly."""

    assembly = CodeField(kind=Assembly, help_text="Its code: A-…")

    kinds = _ASSEMBLY_KINDS
    field_order = ("assembly", "marked_kg", *WORDING)


class BreakingTestField(forms.CharField):
    """A breaking-force test by its code."""

    def clean(self, value: Any) -> Any:  # noqa: ANN401 -- Django’s own signature
        """Find the test."""
        text = super().clean(value)
        test: BreakingTest | None = breaking_test_of(text.strip().upper())
        if test is None:
            message = f"“{text}” is no breaking-force test (BT-…) on record."
            raise forms.ValidationError(message)
        return test


class BreakingDraftForm(WordingForm):
    """Which breaking-force test."""

    breaking_test = BreakingTestField(max_length=20, help_text="Its code: BT-…")

    kinds = (_KINDS.LABORATORY.value,)
    field_order = ("breaking_test", *WORDING)


class CorrectionForm(WordingForm):
    """Why a certificate is replaced, and the wording of the new one."""

    reason = forms.CharField(
        max_length=300,
        help_text="It stands on the new paper, and is what the tag of the old one says (ISO/IEC"
        " 17025:2017, 7.8.8).",
    )

    field_order = ("reason", *WORDING)

    def __init__(self, *args: Any, kind: str, **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Offer the kinds of document that go with the kind of certificate corrected."""
        self.kinds = _KINDS_OF[kind]
        super().__init__(*args, **kwargs)


class RewordForm(WordingForm):
    """Another wording of a draft."""

    field_order = WORDING

    def __init__(self, *args: Any, kind: str, **kwargs: Any) -> None:  # noqa: ANN401 -- Django’s own signature
        """Offer the kinds of document that go with the kind of certificate."""
        self.kinds = _KINDS_OF[kind]
        super().__init__(*args, **kwargs)


_KINDS_OF = {
    Certificate.Kind.CUT_LENGTH.value: CutLengthDraftForm.kinds,
    Certificate.Kind.ASSEMBLY.value: AssemblyDraftForm.kinds,
    Certificate.Kind.BREAKING.value: BreakingDraftForm.kinds,
}


class ReasonForm(Ask):
    """A reason that others will read."""

    reason = forms.CharField(max_length=300)


class PiecesFromForm(Ask):
    """Where to take the pieces of a paper from."""

    taken_from = forms.CharField(
        label="Take the pieces of",
        max_length=20,
        required=False,
        help_text="A reel (R-…), an order (O-…) or a delivery (V-…): its pieces for supply that are"
        " on no certificate yet.",
    )
