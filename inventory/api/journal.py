"""The journal over the API, to be read only."""

from typing import Any

from drf_spectacular.utils import extend_schema, extend_schema_view
from rest_framework import serializers

from inventory.api.register import Register
from inventory.models import JournalEntry
from inventory.queries.journal_entries import journal_entries


class JournalAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    subject = serializers.CharField(required=False)
    act = serializers.CharField(required=False)


class JournalEntryAnswer(serializers.ModelSerializer[JournalEntry]):
    """An entry; `canonical` is the RFC 8785 text that its hashes are made of."""

    by = serializers.CharField(source="by.username")

    class Meta:
        model = JournalEntry
        fields = ["number", "at", "act", "subject", "by", "canonical", "leaf_hash", "chain_hash"]


@extend_schema_view(list=extend_schema(parameters=[JournalAsked]))
class JournalViewSet(Register[JournalEntry]):
    """Every act, the latest first."""

    queryset = journal_entries()
    serializer_class = JournalEntryAnswer
    narrowed_by = JournalAsked
    lookup_field = "number"
    lookup_value_regex = "[0-9]{1,15}"
