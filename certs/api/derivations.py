"""How a derived number is written in the API: never bare, every figure as text with its unit."""

from typing import Any

from rest_framework import serializers

from certs.rules.derived import Derived, Gap
from certs.rules.tolerance import DiameterLimits


class SourceAnswer(serializers.Serializer[Any]):
    """Where a figure comes from, and how well it is known."""

    name = serializers.CharField()
    edition = serializers.CharField(allow_blank=True)
    confidence = serializers.CharField(allow_blank=True)
    note = serializers.CharField(allow_blank=True)


class GivenAnswer(serializers.Serializer[Any]):
    """An input, as it was given."""

    symbol = serializers.CharField(allow_blank=True)
    name = serializers.CharField()
    value = serializers.CharField()
    unit = serializers.CharField(allow_blank=True)
    source = SourceAnswer(allow_null=True)  # type: ignore[assignment] # a field of this name


class DerivedAnswer(serializers.Serializer[Any]):
    """A number with everything it rests on; `rests_on` holds derivations of the same shape."""

    quantity = serializers.CharField()
    symbol = serializers.CharField(allow_blank=True)
    formula = serializers.CharField()
    inputs = GivenAnswer(many=True)
    source = SourceAnswer()  # type: ignore[assignment] # a field of this name
    unrounded = serializers.CharField()
    stated = serializers.CharField()
    unit = serializers.CharField(allow_blank=True)
    rounding = serializers.CharField()
    basis = serializers.CharField(allow_blank=True)
    rests_on = serializers.ListField(child=serializers.DictField())
    remarks = serializers.ListField(child=serializers.CharField())
    governed_by = serializers.CharField(allow_blank=True)
    is_provisional = serializers.BooleanField()

    def to_representation(self, instance: Derived) -> dict[str, Any]:
        """Write it as it is frozen into a certificate."""
        return instance.as_json()


class GapAnswer(serializers.Serializer[Any]):
    """A value that is missing, and why; it is never filled in."""

    quantity = serializers.CharField()
    reason = serializers.CharField()


def shown(part: Derived | Gap | None) -> Derived | None:
    """Give a derived number, or nothing where there is a gap."""
    return part if isinstance(part, Derived) else None


def lowest(limits: DiameterLimits | Gap) -> Derived | None:
    """Give the least diameter allowed, or nothing where there is a gap."""
    return limits.lowest if isinstance(limits, DiameterLimits) else None


def highest(limits: DiameterLimits | Gap) -> Derived | None:
    """Give the greatest diameter allowed, or nothing where there is a gap."""
    return limits.highest if isinstance(limits, DiameterLimits) else None


def gaps_in(*parts: object) -> list[Gap]:
    """Keep what is missing."""
    return [part for part in parts if isinstance(part, Gap)]
