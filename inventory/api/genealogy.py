"""How traces are written in the API: where rope came from, and what was made of it."""

from typing import Any

from rest_framework import serializers

from inventory.api.fields import LengthMm, StretchAnswer


class AncestorAnswer(serializers.Serializer[Any]):
    """A reel that the rope was on. Metre there = `sign` x asked position + `offset_mm`."""

    reel = serializers.CharField(source="reel_code")
    from_mm = serializers.IntegerField()
    to_mm = serializers.IntegerField()
    sign = serializers.IntegerField()
    offset_mm = serializers.IntegerField()
    depth = serializers.IntegerField()
    wound_from = serializers.CharField(source="wound_from_code", allow_blank=True)


class HeatOnStretchAnswer(serializers.Serializer[Any]):
    """A heat in the rope, and where, in metres of the reel named."""

    heat = serializers.CharField(source="heat.code")
    number = serializers.CharField(source="heat.number")
    mill = serializers.CharField(source="heat.mill.code")
    reel = serializers.CharField(source="reel_code")
    from_mm = serializers.IntegerField()
    to_mm = serializers.IntegerField()


class PaperAnswer(serializers.Serializer[Any]):
    """A maker's document."""

    code = serializers.CharField()
    kind = serializers.CharField()
    number = serializers.CharField()


class RopeTraceAnswer(serializers.Serializer[Any]):
    """Where rope came from: reels, the nearest first; heats by metre; documents."""

    ancestors = AncestorAnswer(many=True)
    heats = HeatOnStretchAnswer(many=True)
    mill_documents = PaperAnswer(many=True)


class ForwardPieceAnswer(serializers.Serializer[Any]):
    """A piece that holds what was asked for; `asked_` metres are those of the reel asked about."""

    code = serializers.CharField()
    purpose = serializers.CharField()
    reel = serializers.CharField(source="reel_code")
    from_mm = serializers.IntegerField()
    to_mm = serializers.IntegerField()
    asked_reel = serializers.CharField(source="asked_reel_code")
    asked_from_mm = serializers.IntegerField()
    asked_to_mm = serializers.IntegerField()
    touched = StretchAnswer(many=True)
    depth = serializers.IntegerField()
    through = serializers.CharField()
    wound_reel = serializers.CharField(source="wound_reel_code", allow_blank=True)
    assembly = serializers.CharField(source="assembly_code", allow_blank=True)
    delivery = serializers.CharField(source="delivery_code", allow_blank=True)
    customer = serializers.CharField(source="customer_code", allow_blank=True)


class ForwardReelAnswer(serializers.Serializer[Any]):
    """A reel that holds what was asked for."""

    code = serializers.CharField()
    origin = serializers.CharField()
    depth = serializers.IntegerField()
    touched = StretchAnswer(many=True)
    asked_reel = serializers.CharField(source="asked_reel_code")
    asked_from_mm = serializers.IntegerField()
    asked_to_mm = serializers.IntegerField()
    wound_from = serializers.CharField(source="wound_from_code", allow_blank=True)


class ForwardAssemblyAnswer(serializers.Serializer[Any]):
    """An assembly with some of it."""

    code = serializers.CharField()
    delivery = serializers.CharField(source="delivery_code", allow_blank=True)


class ForwardDeliveryAnswer(serializers.Serializer[Any]):
    """A delivery with some of it."""

    code = serializers.CharField()
    delivered_at = serializers.DateTimeField()
    customer = serializers.CharField(source="customer_code")


class ForwardCustomerAnswer(serializers.Serializer[Any]):
    """Who received some of it."""

    code = serializers.CharField()
    name = serializers.CharField()


class ForwardAnswer(serializers.Serializer[Any]):
    """All that was made of what was asked about, each thing once."""

    pieces = ForwardPieceAnswer(many=True)
    reels = ForwardReelAnswer(many=True)
    assemblies = ForwardAssemblyAnswer(many=True)
    deliveries = ForwardDeliveryAnswer(many=True)
    customers = ForwardCustomerAnswer(many=True)


class PieceTraceAnswer(serializers.Serializer[Any]):
    """A piece, backward and forward."""

    back = RopeTraceAnswer()
    forward = ForwardAnswer()


class PointAsked(serializers.Serializer[Any]):
    """A point of a piece, from its near end."""

    mm_from_near_end = LengthMm()


class PointAnswer(serializers.Serializer[Any]):
    """Where that point lies on a reel."""

    reel = serializers.CharField(source="reel_code")
    metre_mm = serializers.IntegerField()


class AroundAsked(serializers.Serializer[Any]):
    """A point of a reel, and how far to look to both sides."""

    metre_mm = LengthMm()
    span_mm = LengthMm()


class NeighbourAnswer(serializers.Serializer[Any]):
    """A piece near a point."""

    piece = ForwardPieceAnswer()
    distance_mm = serializers.IntegerField()
