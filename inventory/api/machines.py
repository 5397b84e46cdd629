"""Testing machines and their calibrations over the API."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework import serializers
from rest_framework.decorators import action
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.api.acting import deed, made, read
from inventory.api.fields import AsGiven, AsGivenAnswer, ForceN
from inventory.api.register import Register
from inventory.models import Calibration, TestingMachine
from inventory.queries import registers
from inventory.rules.roles import Act
from inventory.services.machines import record_calibration, register_machine


class MachineAsked(serializers.Serializer[Any]):
    """A testing machine to register."""

    name = serializers.CharField(max_length=80)
    maker = serializers.CharField(max_length=80, allow_blank=True, default="")
    serial_number = serializers.CharField(max_length=60)


class MachineAnswer(serializers.ModelSerializer[TestingMachine]):
    """A testing machine; `due_date` is the day on which its last calibration ends."""

    due_date = serializers.DateField(source="due", allow_null=True, default=None)

    class Meta:
        model = TestingMachine
        fields = ["code", "name", "maker", "serial_number", "registered_at", "due_date"]


class CalibrationAsked(serializers.Serializer[Any]):
    """A calibration: class (ISO 7500-1) and verified range of force.

    Uncertainty and repeatability in per cent of the force, as text: "0.24".
    """

    certificate_number = serializers.CharField(max_length=60)
    laboratory = serializers.CharField(max_length=120)
    accreditation_number = serializers.CharField(max_length=60, allow_blank=True, default="")
    calibrated_date = serializers.DateField()
    due_date = serializers.DateField()
    machine_class = serializers.ChoiceField(Calibration.MachineClass.choices)
    range_from_n = ForceN()
    range_to_n = ForceN()
    resolution_n = ForceN(allow_null=True, default=None)
    uncertainty_pct = serializers.CharField(max_length=20, allow_blank=True, default="")
    coverage_factor = serializers.CharField(max_length=20, allow_blank=True, default="")
    repeatability_pct = serializers.CharField(max_length=20, allow_blank=True, default="")
    as_given = AsGiven()


class CalibrationAnswer(serializers.ModelSerializer[Calibration]):
    """A calibration on record."""

    as_given = AsGivenAnswer(read_only=True)

    class Meta:
        model = Calibration
        fields = [
            "certificate_number",
            "laboratory",
            "accreditation_number",
            "calibrated_date",
            "due_date",
            "machine_class",
            "range_from_n",
            "range_to_n",
            "resolution_n",
            "uncertainty_pct",
            "coverage_factor",
            "repeatability_pct",
            "as_given",
            "recorded_at",
        ]


class MachineViewSet(Register[TestingMachine]):
    """Tensile testing machines and proof-load benches."""

    queryset = registers.machines()
    serializer_class = MachineAnswer
    acts = {"create": Act.REGISTER_MACHINE, "calibrate": Act.RECORD_CALIBRATION}

    @extend_schema(request=MachineAsked, responses={201: MachineAnswer})
    def create(self, request: Request) -> Response:
        """Register a testing machine."""
        machine = register_machine(**read(MachineAsked, request), **deed(request))
        return made(MachineAnswer(machine))

    @extend_schema(responses=CalibrationAnswer(many=True))
    @action(detail=True)
    def calibrations(self, request: Request, code: str) -> Response:
        """List the calibrations of a machine, the latest first."""
        return self.page_of(registers.calibrations_of(self.get_object()), CalibrationAnswer)

    @extend_schema(request=CalibrationAsked, responses={201: CalibrationAnswer})
    @calibrations.mapping.post
    def calibrate(self, request: Request, code: str) -> Response:
        """Record a calibration."""
        machine = self.get_object()
        asked = read(CalibrationAsked, request)
        done = record_calibration(machine=machine, **asked, **deed(request))
        return made(CalibrationAnswer(done))
