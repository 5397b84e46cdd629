"""The specification tables over the API, to be read only, and what was agreed on beside them."""

from typing import Any

from django.http import Http404
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from certs.api.register import SignedForClaims
from certs.models import AgreedSpecification
from certs.models.specification import TableRow
from certs.queries.specification_tables import (
    TABLES,
    agreed_specifications,
    row_counts,
    rows_of,
)
from certs.rules.roles import ClaimAct
from certs.services.specify import add_agreed_specification
from inventory.api.acting import deed, made, read, read_query
from inventory.api.fields import AsGiven, Code, ForceN
from inventory.queries.registers import parties

OF_EVERY_ROW = ("key", "source", "confidence", "note")
_SLUG = OpenApiParameter(
    "slug", OpenApiTypes.STR, OpenApiParameter.PATH, enum=list(TABLES), description="Which table."
)


class SpecificationAnswer(serializers.Serializer[Any]):
    """A table: its name in the address, what it is for, how many rows are held."""

    slug = serializers.CharField()
    title = serializers.CharField()
    about = serializers.CharField()
    rows = serializers.IntegerField()


class RowsAsked(serializers.Serializer[Any]):
    """Words that must all stand in a row."""

    words = serializers.CharField(max_length=200, required=False, allow_blank=True)


class RowAnswer(serializers.Serializer[Any]):
    """A row as printed, with its source and how well it is known."""

    key = serializers.CharField()
    values = serializers.DictField()
    source = serializers.CharField()  # type: ignore[assignment] # a field of this name
    confidence = serializers.CharField()
    note = serializers.CharField(allow_blank=True)

    def to_representation(self, instance: TableRow) -> dict[str, Any]:
        """Keep apart what is said of the row from what stands in it."""
        named = {field.name for field in instance._meta.concrete_fields} - {"id", *OF_EVERY_ROW}
        of_row = {name: getattr(instance, name) for name in OF_EVERY_ROW}
        return {**of_row, "values": {name: getattr(instance, name) for name in sorted(named)}}


class SpecificationViewSet(SignedForClaims[TableRow]):
    """Published values, with edition, source and confidence."""

    lookup_field = "slug"
    lookup_value_regex = "[a-z-]+"
    serializer_class = RowAnswer

    @extend_schema(responses=SpecificationAnswer(many=True))
    def list(self, request: Request) -> Response:
        """List the tables."""
        counts = row_counts()
        tables = [
            {"slug": slug, "title": table.title, "about": table.about, "rows": counts[slug]}
            for slug, table in TABLES.items()
        ]
        return self.page_of(tables, SpecificationAnswer)

    @extend_schema(
        operation_id="specifications_rows",
        parameters=[_SLUG, RowsAsked],
        responses=RowAnswer(many=True),
    )
    def retrieve(self, request: Request, slug: str) -> Response:
        """List the rows of a table."""
        if slug not in TABLES:
            raise Http404
        asked = read_query(RowsAsked, request)
        return self.page_of(rows_of(TABLES[slug], **asked), RowAnswer)


class AgreedAsked(serializers.Serializer[Any]):
    """What two parties agreed on for one rope: a factor K or a force; the rest is optional."""

    name = serializers.CharField(max_length=80)
    edition = serializers.CharField(max_length=40)
    agreed_with = Code(queryset=parties())
    paper = serializers.CharField(max_length=200)
    designation = serializers.CharField(max_length=80)
    factor_k = serializers.CharField(max_length=12, allow_blank=True, default="")
    force_n = ForceN(allow_null=True, default=None)
    factor_w = serializers.CharField(max_length=12, allow_blank=True, default="")
    diameter_minus_pct = serializers.CharField(max_length=8, allow_blank=True, default="")
    diameter_plus_pct = serializers.CharField(max_length=8, allow_blank=True, default="")
    mass_minus_pct = serializers.CharField(max_length=8, allow_blank=True, default="")
    mass_plus_pct = serializers.CharField(max_length=8, allow_blank=True, default="")
    as_given = AsGiven()


class AgreedAnswer(serializers.ModelSerializer[AgreedSpecification]):
    """An agreement on record."""

    agreed_with = Code()

    class Meta:
        model = AgreedSpecification
        fields = [
            "name",
            "edition",
            "agreed_with",
            "paper",
            "designation",
            "factor_k",
            "force_n",
            "factor_w",
            "diameter_minus_pct",
            "diameter_plus_pct",
            "mass_minus_pct",
            "mass_plus_pct",
            "as_given",
            "entered_at",
        ]


class AgreedViewSet(SignedForClaims[AgreedSpecification]):
    """Values that two parties agreed on."""

    serializer_class = AgreedAnswer
    acts = {"create": ClaimAct.ADD_SPECIFICATION}

    @extend_schema(responses=AgreedAnswer(many=True))
    def list(self, request: Request) -> Response:
        """List what was agreed on, by name."""
        return self.page_of(agreed_specifications(), AgreedAnswer)

    @extend_schema(request=AgreedAsked, responses={201: AgreedAnswer})
    def create(self, request: Request) -> Response:
        """Enter an agreement from the paper that both parties signed."""
        added = add_agreed_specification(**read(AgreedAsked, request), **deed(request))
        return made(AgreedAnswer(added))
