"""How reels are asked for and written in the API."""

from typing import Any

from rest_framework import serializers

from inventory.api.fields import (
    AsGiven,
    AsGivenAnswer,
    Code,
    Count,
    ForceN,
    GaugeUm,
    LengthMm,
    OrderLineRef,
    StretchAnswer,
)
from inventory.documents.reel_stretches import MapKind
from inventory.models import CutPiece, Reel, ReelHeat
from inventory.queries import registers
from inventory.services.receive import HeatTie

CUT_FOR = [choice for choice in CutPiece.Purpose.choices if choice[0] != CutPiece.Purpose.REWIND]


class HeatTieAsked(serializers.Serializer[Any]):
    """A heat in the reel: over its whole length, or over a stretch of it."""

    heat = Code(queryset=registers.heats())
    from_mm = LengthMm(required=False, allow_null=True)
    to_mm = LengthMm(required=False, allow_null=True)

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Read it in the words of the service."""
        asked = super().to_internal_value(data)
        return HeatTie(asked["heat"], asked.get("from_mm"), asked.get("to_mm"))


class ReelAsked(serializers.Serializer[Any]):
    """A reel to receive. Metre 0 is its free end as received."""

    designation = serializers.CharField(max_length=80)
    mill = Code(queryset=registers.parties())
    mill_reel_number = serializers.CharField(max_length=60, allow_blank=True, default="")
    length_mm = LengthMm()
    heats = HeatTieAsked(many=True, allow_empty=False)
    mill_document = Code(queryset=registers.mill_documents(), allow_null=True, default=None)
    location = serializers.CharField(max_length=60, allow_blank=True, default="")
    marked_grade = serializers.CharField(max_length=12, allow_blank=True, default="")
    declared_force_n = ForceN(allow_null=True, default=None)
    declared_mass_g_per_100m = Count(allow_null=True, default=None, max_value=10**9)
    lay_length_um = GaugeUm(allow_null=True, default=None)
    marking = serializers.CharField(max_length=200, allow_blank=True, default="")
    as_given = AsGiven()


class ReelsAsked(serializers.Serializer[Any]):
    """What the list may be narrowed by."""

    designation = serializers.CharField(required=False)
    construction = serializers.CharField(required=False)
    origin = serializers.ChoiceField(Reel.Origin.choices, required=False)
    mill = serializers.CharField(required=False, source="mill__code")
    location = serializers.CharField(required=False)


class HeatTieAnswer(serializers.ModelSerializer[ReelHeat]):
    """A heat in the reel; without metres it is in the whole of it."""

    heat = Code()

    class Meta:
        model = ReelHeat
        fields = ["heat", "from_mm", "to_mm"]


class ReelAnswer(serializers.ModelSerializer[Reel]):
    """A reel on record."""

    mill = Code()
    mill_document = Code(allow_null=True)
    wound_from = Code(allow_null=True)
    assumed_parts = serializers.ListField(child=serializers.CharField())
    heats = HeatTieAnswer(many=True, source="heat_ties")
    as_given = AsGivenAnswer(read_only=True)

    class Meta:
        model = Reel
        fields = [
            "code",
            "origin",
            "designation",
            "assumed_parts",
            "diameter_nm",
            "construction",
            "rope_core",
            "grade",
            "finish",
            "lay",
            "mill",
            "mill_reel_number",
            "mill_document",
            "length_mm",
            "location",
            "marked_grade",
            "declared_force_n",
            "declared_mass_g_per_100m",
            "lay_length_um",
            "marking",
            "as_given",
            "wound_from",
            "origin_from_mm",
            "origin_to_mm",
            "is_turned",
            "heats",
            "received_at",
        ]


class CutAsked(serializers.Serializer[Any]):
    """A piece to cut. Without `from_mm`: the first clear metres that give the length."""

    from_mm = LengthMm(allow_null=True, default=None)
    length_mm = LengthMm()
    purpose = serializers.ChoiceField(CUT_FOR)
    order_line = OrderLineRef(required=False, allow_null=True)
    ordered_length_mm = LengthMm(required=False, allow_null=True)
    tolerance_minus_mm = LengthMm(required=False)
    tolerance_plus_mm = LengthMm(required=False)
    near_end = serializers.ChoiceField(CutPiece.EndFinish.choices, required=False)
    far_end = serializers.ChoiceField(CutPiece.EndFinish.choices, required=False)
    note = serializers.CharField(max_length=200, allow_blank=True, required=False)
    as_given = AsGiven()


class RewindAsked(serializers.Serializer[Any]):
    """A stretch to wind on to a reel of its own."""

    from_mm = LengthMm()
    to_mm = LengthMm()
    is_turned = serializers.BooleanField(default=True)
    location = serializers.CharField(max_length=60, allow_blank=True, default="")


class MoveAsked(serializers.Serializer[Any]):
    """Where a reel stands now."""

    location = serializers.CharField(max_length=60)


class BalanceAnswer(serializers.Serializer[Any]):
    """What became of the length; the parts add up to it."""

    length_mm = serializers.IntegerField()
    supply_mm = serializers.IntegerField()
    sample_mm = serializers.IntegerField()
    rewind_mm = serializers.IntegerField()
    scrap_mm = serializers.IntegerField()
    remaining_mm = serializers.IntegerField()


class FreeAnswer(serializers.Serializer[Any]):
    """What is left: `free` under hold or not, `clear` not under hold."""

    free = StretchAnswer(many=True)
    clear = StretchAnswer(many=True)
    balance = BalanceAnswer()


class MapStretchAnswer(StretchAnswer):
    """Metres of a reel and where they went; `piece` is "" for what is still there."""

    kind = serializers.ChoiceField([kind.value for kind in MapKind])
    piece = serializers.CharField(source="label", allow_blank=True)
    is_held = serializers.BooleanField()


class MapHeatAnswer(StretchAnswer):
    """Metres of a reel with one heat."""

    heat_number = serializers.CharField(source="label")


class ReelMapAnswer(serializers.Serializer[Any]):
    """Every metre of a reel, in order, and its heats in the reel's own metres."""

    stretches = MapStretchAnswer(many=True)
    heats = MapHeatAnswer(many=True)
