"""What proves the journal to others over the API: its last checkpoint, and two kinds of proof.

Hashes are hexadecimal, as everywhere in the API; the checkpoint's note is C2SP's, byte for byte.
"""

from typing import Any

from django.http import Http404
from drf_spectacular.utils import extend_schema, extend_schema_field
from rest_framework import serializers
from rest_framework.permissions import IsAuthenticated
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.api.acting import read_query
from inventory.models import Checkpoint
from inventory.queries.checkpoints import standing_checkpoint
from inventory.queries.journal_proofs import consistency_proof, inclusion_proof
from inventory.rules.checkpoint import read_head
from inventory.rules.signed_note import read_note

MOST = 2**53 - 1


@extend_schema_field({"type": "string", "pattern": "^[0-9a-f]{64}$"})
class Hash(serializers.Field[bytes, Any, str, Any]):
    """Bytes in hexadecimal, to be read only."""

    def to_representation(self, value: bytes) -> str:
        """Write them."""
        return value.hex()


class CheckpointAnswer(serializers.Serializer[Checkpoint]):
    """A checkpoint; `note` is the signed text, the rest says what is in it."""

    origin = serializers.SerializerMethodField()
    size = serializers.IntegerField()
    root = serializers.CharField()  # type: ignore[assignment] # its metaclass takes it away
    note = serializers.CharField()
    key = serializers.CharField(source="key.name")
    is_evaluation = serializers.BooleanField(source="key.is_evaluation")
    made_at = serializers.DateTimeField()

    def get_origin(self, checkpoint: Checkpoint) -> str:
        """Read which log it is of."""
        return read_head(read_note(checkpoint.note).text).origin


class InclusionAsked(serializers.Serializer[Any]):
    """In the journal of how many entries; those of the last checkpoint unless said."""

    size = serializers.IntegerField(min_value=1, max_value=MOST, required=False)


class InclusionAnswer(serializers.Serializer[Any]):
    """That an entry is among the first `size` (RFC 9162, 2.1.3); the path begins at the leaf."""

    number = serializers.IntegerField()
    size = serializers.IntegerField()
    leaf_hash = Hash(source="leaf")
    path = serializers.ListField(child=Hash())
    root = Hash()  # type: ignore[assignment] # its metaclass takes it away


class ConsistencyAsked(serializers.Serializer[Any]):
    """From which size of the journal to which; to that of the last checkpoint unless said."""

    to = serializers.IntegerField(min_value=1, max_value=MOST, required=False)

    def get_fields(self) -> dict[str, Any]:
        """Add a field that is called like a word of Python."""
        start = serializers.IntegerField(min_value=1, max_value=MOST)
        return {"from": start, **super().get_fields()}


class ConsistencyAnswer(serializers.Serializer[Any]):
    """That the journal of one size is the beginning of that of another (RFC 9162, 2.1.4)."""

    old_size = serializers.IntegerField()
    new_size = serializers.IntegerField()
    old_root = Hash()
    new_root = Hash()
    path = serializers.ListField(child=Hash())


class CheckpointView(APIView):
    """The last checkpoint."""

    permission_classes = (IsAuthenticated,)

    @extend_schema(responses=CheckpointAnswer)
    def get(self, request: Request) -> Response:
        """Get the last checkpoint; 404 until one is signed."""
        return Response(CheckpointAnswer(_standing()).data)


class InclusionView(APIView):
    """The proof of an entry."""

    permission_classes = (IsAuthenticated,)

    @extend_schema(parameters=[InclusionAsked], responses=InclusionAnswer)
    def get(self, request: Request, number: int) -> Response:
        """Prove that an entry is in the journal."""
        size = read_query(InclusionAsked, request).get("size") or _standing().size
        return Response(InclusionAnswer(inclusion_proof(number=number, size=size)).data)


class ConsistencyView(APIView):
    """The proof that nothing before was changed."""

    permission_classes = (IsAuthenticated,)

    @extend_schema(parameters=[ConsistencyAsked], responses=ConsistencyAnswer)
    def get(self, request: Request) -> Response:
        """Prove that the journal of one size is the beginning of that of another."""
        asked = read_query(ConsistencyAsked, request)
        new_size = asked.get("to") or _standing().size
        proof = consistency_proof(old_size=asked["from"], new_size=new_size)
        return Response(ConsistencyAnswer(proof).data)


def _standing() -> Checkpoint:
    standing = standing_checkpoint()
    if standing is None:
        raise Http404
    return standing
