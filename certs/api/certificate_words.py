"""How certificates are asked for and written in the API."""

from typing import Any

from rest_framework import serializers

from certs.api.representatives import Entry
from certs.models import Certificate
from certs.queries.claim_registers import breaking_tests
from certs.rules.load_text import MAX_LOAD_KG
from certs.services.drafts import Wording
from inventory.api.fields import Code, ReasonAsked
from inventory.queries.cut_pieces import cut_pieces
from inventory.queries.registers import assemblies, parties
from inventory.rules.paper_language import paper_choices

MOST_PIECES = 500
WORDING = (
    "document_kind",
    "customer",
    "customer_reference",
    "remarks",
    "first_validator",
    "second_validator",
    "marked_kg",
    "language",
)


class MarkedKg(serializers.IntegerField):
    """The load marked on an assembly in whole kg, for the first band of angles it is rated in."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a number."""
        given = {"min_value": 1, "max_value": MAX_LOAD_KG, "allow_null": True, "required": False}
        super().__init__(**given | kwargs)


class WordingAsked(serializers.Serializer[Any]):
    """What a draft may choose, whatever its subject."""

    document_kind = serializers.ChoiceField(Certificate.DocumentKind.choices)
    customer = Code(queryset=parties(), allow_null=True, required=False)
    customer_reference = serializers.CharField(max_length=60, allow_blank=True, required=False)
    remarks = serializers.CharField(max_length=400, allow_blank=True, required=False)
    first_validator = Entry(allow_null=True, required=False)
    second_validator = Entry(allow_null=True, required=False)
    language = serializers.ChoiceField(paper_choices(), required=False)

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Read it in the words of the service: the subject by its name, and the wording."""
        asked = super().to_internal_value(data)
        chosen = {name: asked.pop(name) for name in WORDING if name in asked}
        return {**asked, "wording": Wording(**chosen)}


class CutLengthAsked(WordingAsked):
    """A certificate of cut lengths."""

    pieces = serializers.ListField(
        child=Code(queryset=cut_pieces()), allow_empty=False, max_length=MOST_PIECES
    )


class AssemblyCertificateAsked(WordingAsked):
    """The test certificate of an assembly."""

    assembly = Code(queryset=assemblies())
    marked_kg = MarkedKg()


class BreakingReportAsked(WordingAsked):
    """The report of a breaking-force test."""

    breaking_test = Code(queryset=breaking_tests())


class ChangesAsked(serializers.Serializer[Any]):
    """What a paper is to say otherwise than it does."""

    document_kind = serializers.ChoiceField(Certificate.DocumentKind.choices, required=False)
    customer = Code(queryset=parties(), allow_null=True, required=False)
    customer_reference = serializers.CharField(max_length=60, allow_blank=True, required=False)
    remarks = serializers.CharField(max_length=400, allow_blank=True, required=False)
    first_validator = Entry(allow_null=True, required=False)
    second_validator = Entry(allow_null=True, required=False)
    marked_kg = MarkedKg()
    language = serializers.ChoiceField(paper_choices(), required=False)


class CorrectionAsked(ChangesAsked, ReasonAsked):
    """Why a certificate is replaced, and what the new one says otherwise than the old."""


class CertificatesAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    state = serializers.ChoiceField(Certificate.State.choices, required=False)
    kind = serializers.ChoiceField(Certificate.Kind.choices, required=False)
    customer = serializers.CharField(required=False, source="customer__code")


class CertificateAnswer(serializers.ModelSerializer[Certificate]):
    """A certificate: a draft, or issued and frozen. Its number is given when it is issued."""

    language = serializers.CharField()
    customer = Code(allow_null=True)
    assembly = Code(allow_null=True)
    breaking_test = Code(allow_null=True)
    replaces = serializers.CharField(source="replaces.number", allow_null=True, default=None)
    replaced_by = serializers.CharField(source="replaced_by.number", allow_null=True, default=None)
    first_validator = Entry(read_only=True, allow_null=True)
    second_validator = Entry(read_only=True, allow_null=True)

    class Meta:
        model = Certificate
        fields = [
            "draft_code",
            "number",
            "kind",
            "document_kind",
            "language",
            "state",
            "customer",
            "customer_reference",
            "assembly",
            "breaking_test",
            "remarks",
            "marked_kg",
            "first_validator",
            "second_validator",
            "replaces",
            "replace_reason",
            "replaced_by",
            "drafted_at",
            "issued_at",
            "snapshot_sha256",
            "pdf_sha256",
            "credential_sha256",
            "is_evaluation",
            "ended_at",
            "end_reason",
        ]


class CheckItemAnswer(serializers.Serializer[Any]):
    """One thing that must be so before a draft is issued; `about` is where it can be mended."""

    name = serializers.CharField()
    is_met = serializers.BooleanField()
    text = serializers.CharField()
    about = serializers.CharField(allow_blank=True)
