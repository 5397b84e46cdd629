"""Mill documents over the API, with the scan that was received."""

from typing import Any

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.parsers import MultiPartParser
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, kept, made, read
from inventory.api.fields import Code
from inventory.api.register import Register
from inventory.models import MillDocument
from inventory.queries import registers
from inventory.rules.roles import Act
from inventory.services.receive import file_mill_document

SCANS = ("application/pdf", "image/jpeg", "image/png")


class MillDocumentAsked(serializers.Serializer[Any]):
    """A maker's document to file, with its scan (PDF, JPEG or PNG)."""

    mill = Code(queryset=registers.makers())
    number = serializers.CharField(max_length=60)
    kind = serializers.ChoiceField(MillDocument.Kind.choices)
    form = serializers.ChoiceField(MillDocument.Form.choices)
    issued_date = serializers.DateField()
    validated_by = serializers.CharField(max_length=120, allow_blank=True, default="")
    file = serializers.FileField()


class MillDocumentsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by; a number by its beginning."""

    mill = serializers.CharField(required=False, source="mill__code")
    number = serializers.CharField(required=False, source="number__istartswith")


class MillDocumentAnswer(serializers.ModelSerializer[MillDocument]):
    """A maker's document on file, and the SHA-256 of its scan."""

    mill = Code()
    sha256 = serializers.CharField(source="file.sha256")

    class Meta:
        model = MillDocument
        fields = [
            "code",
            "mill",
            "number",
            "kind",
            "form",
            "issued_date",
            "validated_by",
            "sha256",
            "filed_at",
        ]


@extend_schema_view(list=extend_schema(parameters=[MillDocumentsAsked]))
class MillDocumentViewSet(Register[MillDocument]):
    """Papers that came with the goods."""

    queryset = registers.mill_documents().select_related("file")
    serializer_class = MillDocumentAnswer
    narrowed_by = MillDocumentsAsked
    parser_classes = [MultiPartParser]
    acts = {"create": Act.FILE_MILL_DOCUMENT}

    @extend_schema(request=MillDocumentAsked, responses={201: MillDocumentAnswer})
    def create(self, request: Request) -> Response:
        """File a document with its scan."""
        asked = read(MillDocumentAsked, request)
        scan = asked.pop("file")
        document = file_mill_document(
            **asked, content=scan.read(), file_name=scan.name, **deed(request)
        )
        return made(MillDocumentAnswer(document))

    @extend_schema(responses={(200, media_type): OpenApiTypes.BINARY for media_type in SCANS})
    @action(detail=True)
    def file(self, request: Request, code: str) -> HttpResponse:
        """Get the scan as it was received."""
        return kept(self.get_object().file)
