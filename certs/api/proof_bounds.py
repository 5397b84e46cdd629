"""How the force that a machine must show, and what stayed of a load, are written in the API."""

from typing import Any

from rest_framework import serializers

from certs.api.derivations import DerivedAnswer
from inventory.api.fields import Code, ForceN
from inventory.queries.registers import assemblies, machines


class ForceToShowAsked(serializers.Serializer[Any]):
    """A proof load that has not been put on; hand splices bring an upper limit of their own."""

    machine = Code(queryset=machines())
    required_n = ForceN()
    ceiling_n = ForceN(allow_null=True, default=None)
    assembly = Code(queryset=assemblies(), allow_null=True, default=None)


class ForceToShowAnswer(serializers.Serializer[Any]):
    """What the machine must show; `serving_class` is one that could prove both bounds.

    Bounds are null where no class of machine is held.
    """

    told = serializers.CharField(source="shown.told", allow_null=True, default=None)
    is_possible = serializers.BooleanField(
        source="shown.is_possible", allow_null=True, default=None
    )
    machine_class = serializers.CharField(
        source="shown.machine_class", allow_null=True, default=None
    )
    serving_class = serializers.CharField(
        source="shown.serving.name", allow_null=True, default=None
    )
    least = DerivedAnswer(source="shown.least", allow_null=True, default=None)
    most = DerivedAnswer(source="shown.most", allow_null=True, default=None)
    calibration = serializers.CharField(
        source="calibration.certificate_number", allow_null=True, default=None
    )
    problems = serializers.ListField(child=serializers.CharField())
    notes = serializers.ListField(child=serializers.CharField())


class ExtensionAnswer(serializers.Serializer[Any]):
    """What stayed of the load; the limit is that of an order or a standard, null for none."""

    told = serializers.CharField()
    outcome = serializers.CharField()
    limit_pct = serializers.CharField(allow_null=True)
    derived = DerivedAnswer()
