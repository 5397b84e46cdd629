"""What every list of the API has in common: found by code, read by everyone signed in, in pages.

Which rows there are and in which order is decided by the queries.
"""

from collections.abc import Iterable, Mapping
from typing import Any, ClassVar, TypeVar

from django.db.models import Model, QuerySet
from rest_framework.mixins import ListModelMixin, RetrieveModelMixin
from rest_framework.pagination import LimitOffsetPagination
from rest_framework.permissions import IsAuthenticated
from rest_framework.response import Response
from rest_framework.serializers import BaseSerializer
from rest_framework.viewsets import GenericViewSet

from inventory.api.acting import MayAct, read_query

ModelT = TypeVar("ModelT", bound=Model)
RowT = TypeVar("RowT")
CODE = "[A-Z]{1,2}-[0-9]{5,9}"


class Pages(LimitOffsetPagination):
    """Fifty rows at a time unless asked otherwise, never more than 500."""

    max_limit = 500


class Signed(GenericViewSet[ModelT]):
    """Endpoints for people who are signed in; `acts` names what each unsafe action does."""

    permission_classes = (IsAuthenticated, MayAct)
    pagination_class = Pages
    acts: ClassVar[Mapping[str, str]] = {}

    def page_of(self, rows: Iterable[Any], shown: type[BaseSerializer[Any]]) -> Response:
        """Answer with one page of rows."""
        page = self.paginate_queryset(rows)  # type: ignore[arg-type] # a list is cut as well
        return self.get_paginated_response(shown(page, many=True).data)


class Register(ListModelMixin, RetrieveModelMixin, Signed[ModelT]):
    """A list of things and each thing by its code.

    The fields of `narrowed_by` are what a list may be narrowed by; their sources are look-ups.
    """

    lookup_field = "code"
    lookup_value_regex = CODE
    narrowed_by: ClassVar[type[BaseSerializer[Any]] | None] = None

    def filter_queryset(self, queryset: QuerySet[ModelT, RowT]) -> QuerySet[ModelT, RowT]:
        """Narrow a list by what was asked for; a single thing is found whatever was asked."""
        if self.narrowed_by is None or self.action != "list":
            return queryset
        return queryset.filter(**read_query(self.narrowed_by, self.request))
