"""How codes, lengths and forces are written in the API: whole numbers with the unit in the name.

Only the form is decided here; whether a thing may be used so is the services' business.
"""

import re
from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from inventory.api.register import CODE
from inventory.models import Assembly, CutPiece, FittingLot, Heat, OrderLine, Reel, TestingMachine
from inventory.queries.cut_pieces import line_of_order
from inventory.queries.find import Thing, find_thing
from inventory.rules.units import MAX_FORCE_N, MAX_GAUGE_UM, MAX_LENGTH_MM

LONGEST_COUNT = 10**6
_LINE = r"(O-[0-9]{5,9})/([1-9][0-9]{0,5})"
_HELD = (Heat, Reel, FittingLot, TestingMachine, CutPiece, Assembly)


@extend_schema_field({"type": "string", "pattern": f"^{CODE}$"})
class Code(serializers.SlugRelatedField[Any]):
    """A thing by its code. With a queryset it is read, without one it is only written."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a related field."""
        kwargs.setdefault("read_only", "queryset" not in kwargs)
        super().__init__(slug_field="code", **kwargs)

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Find the thing; a text that is no code names nothing."""
        if not isinstance(data, str) or not re.fullmatch(CODE, data):
            self.fail("does_not_exist", slug_name="code", value=str(data)[:40])
        return super().to_internal_value(data)


@extend_schema_field({"type": "string", "pattern": f"^{_LINE}$"})
class OrderLineRef(serializers.Field[OrderLine, str, str, Any]):
    """A line of an order, written as order and position: "O-00012/1"."""

    default_error_messages = {"unknown": "There is no order line of this name."}

    def to_internal_value(self, data: Any) -> OrderLine:  # noqa: ANN401 -- the framework's signature
        """Find the line."""
        named = re.fullmatch(_LINE, data) if isinstance(data, str) else None
        line = line_of_order(named[1], position=int(named[2])) if named else None
        if line is None:
            self.fail("unknown")
        return line

    def to_representation(self, value: OrderLine) -> str:
        """Write order and position."""
        return f"{value.order.code}/{value.position}"


@extend_schema_field({"type": "string"})
class HeldThing(serializers.CharField):
    """The code of something that can be put on hold."""

    default_error_messages = {
        "unknown": "This is no code of a heat, reel, cut piece, assembly, fitting lot or testing"
        " machine on record."
    }

    def to_internal_value(self, data: Any) -> Any:  # noqa: ANN401 -- the framework's signature
        """Find the thing."""
        thing = find_thing(super().to_internal_value(data))
        if not _can_be_held(thing):
            self.fail("unknown")
        return thing


class LengthMm(serializers.IntegerField):
    """A length, or a metre of a reel, in whole millimetres."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a number."""
        super().__init__(**{"min_value": 0, "max_value": MAX_LENGTH_MM} | kwargs)


class GaugeUm(serializers.IntegerField):
    """A gauge length in whole micrometres."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a number."""
        super().__init__(**{"min_value": 1, "max_value": MAX_GAUGE_UM} | kwargs)


class ForceN(serializers.IntegerField):
    """A force in whole newtons."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a number."""
        super().__init__(**{"min_value": 0, "max_value": MAX_FORCE_N} | kwargs)


class AsGiven(serializers.DictField):
    """What was typed in another unit, by field; it must mean the figure of that field."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a mapping; left out, nothing is kept."""
        given: dict[str, Any] = {
            "child": serializers.CharField(max_length=40),
            "default": dict,
        }
        super().__init__(**given | kwargs)


@extend_schema_field({"type": "object", "additionalProperties": {"type": "string"}})
class AsGivenAnswer(serializers.JSONField):
    """What was typed in another unit, by field, as it was kept."""


class Count(serializers.IntegerField):
    """How many."""

    def __init__(self, **kwargs: Any) -> None:  # noqa: ANN401 -- the framework's signature
        """Take the arguments of a number."""
        super().__init__(**{"min_value": 1, "max_value": LONGEST_COUNT} | kwargs)


class ReasonAsked(serializers.Serializer[Any]):
    """Why something is taken back, released or ended."""

    reason = serializers.CharField(max_length=300)


class StretchAnswer(serializers.Serializer[Any]):
    """Metres `[from_mm, to_mm)` of one reel."""

    from_mm = serializers.IntegerField()
    to_mm = serializers.IntegerField()


class StretchAsked(serializers.Serializer[Any]):
    """Metres of a reel; both ends or neither."""

    from_mm = LengthMm(required=False, allow_null=True)
    to_mm = LengthMm(required=False, allow_null=True)


def _can_be_held(thing: Thing | None) -> bool:
    return isinstance(thing, _HELD)
