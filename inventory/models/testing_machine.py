"""Testing machines and their calibrations.

A machine is a thing that exists and can be put on hold, so it stands here; what was measured
with it is a claim.
"""

from typing import ClassVar

from django.db import models
from django.db.models import F, Q


class TestingMachine(models.Model):
    """A tensile testing machine or proof-load bench."""

    __test__ = False  # its name begins with "Test", which pytest would collect

    code = models.CharField(max_length=16, unique=True)
    name = models.CharField(max_length=80)
    maker = models.CharField(max_length=80, blank=True)
    serial_number = models.CharField(max_length=60)
    registered_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["maker", "serial_number"], name="testing_machine_serial_once"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} ({self.code})"


class Calibration(models.Model):
    """One calibration: the class and the range of force that it verified, and until when."""

    class MachineClass(models.TextChoices):
        HALF = "0.5", "class 0.5"
        ONE = "1", "class 1"
        TWO = "2", "class 2"
        THREE = "3", "class 3"

    machine = models.ForeignKey(
        TestingMachine, on_delete=models.PROTECT, related_name="calibrations"
    )
    certificate_number = models.CharField(max_length=60)
    laboratory = models.CharField(max_length=120)
    accreditation_number = models.CharField(max_length=60, blank=True)
    calibrated_date = models.DateField()
    due_date = models.DateField()
    machine_class = models.CharField(max_length=4, choices=MachineClass.choices)
    range_from_n = models.PositiveBigIntegerField()
    range_to_n = models.PositiveBigIntegerField()
    resolution_n = models.PositiveIntegerField(null=True, blank=True)
    # As the calibration certificate states them, in per cent of the force; empty: it does not.
    uncertainty_pct = models.CharField(max_length=8, blank=True)
    coverage_factor = models.CharField(max_length=8, blank=True)
    repeatability_pct = models.CharField(max_length=8, blank=True)
    as_given = models.JSONField(default=dict, blank=True)
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["machine", "certificate_number"], name="calibration_certificate_once"
            ),
            models.CheckConstraint(
                condition=Q(due_date__gt=F("calibrated_date")), name="calibration_dates_in_order"
            ),
            models.CheckConstraint(
                condition=Q(range_to_n__gt=F("range_from_n")), name="calibration_range_in_order"
            ),
            models.CheckConstraint(
                condition=Q(uncertainty_pct="", coverage_factor="")
                | (~Q(uncertainty_pct="") & ~Q(coverage_factor="")),
                name="calibration_uncertainty_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"calibration {self.certificate_number}"
