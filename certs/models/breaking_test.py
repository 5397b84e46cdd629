"""Breaking-force tests on samples cut from a reel."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class BreakingTest(models.Model):
    """One break of one sample. Facts as measured, and the verdict reached on that day."""

    class Outcome(models.TextChoices):
        MEETS = "meets", "meets the required force"
        MEETS_LOWER_BOUND = "meets_lower_bound", "meets it; broke near a grip: a lower bound"
        DISCOUNTED = "discounted", "discounted: broke near a grip below it"
        FAILS = "fails", "fails"

    code = models.CharField(max_length=16, unique=True)
    sample = models.ForeignKey(
        "inventory.CutPiece", on_delete=models.PROTECT, related_name="breaking_tests"
    )
    machine = models.ForeignKey(
        "inventory.TestingMachine", on_delete=models.PROTECT, related_name="breaking_tests"
    )
    calibration = models.ForeignKey(
        "inventory.Calibration",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="breaking_tests",
    )
    tested_at = models.DateTimeField()
    tested_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    required_n = models.PositiveBigIntegerField()
    peak_n = models.PositiveBigIntegerField()
    # From the break to the nearest grip or termination; null: in the clear length, not near.
    break_distance_mm = models.PositiveIntegerField(null=True, blank=True)
    # False: nobody wrote down where it broke, so nothing is known of the distance either.
    is_break_place_known = models.BooleanField(default=True)
    free_length_mm = models.PositiveIntegerField(null=True, blank=True)
    # The free length that an order or a standard asks for, and which; null: the usual one.
    free_length_asked_mm = models.PositiveIntegerField(null=True, blank=True)
    free_length_source = models.CharField(max_length=200, blank=True)
    temperature_c = models.SmallIntegerField(null=True, blank=True)
    log = models.ForeignKey(
        "inventory.StoredFile", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    log_force_unit = models.CharField(max_length=12, blank=True)
    log_time_unit = models.CharField(max_length=12, blank=True)
    # The discounted test that this one repeats on another sample.
    retest_of = models.OneToOneField(
        "self", on_delete=models.PROTECT, null=True, blank=True, related_name="retest"
    )
    decision_rule = models.ForeignKey(
        "certs.DecisionRule", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    # Budget of the force's uncertainty and the decision, as they stood on that day.
    uncertainty = models.JSONField(default=dict, blank=True)
    decision = models.JSONField(default=dict, blank=True)
    as_given = models.JSONField(default=dict, blank=True)
    outcome = models.CharField(max_length=20, choices=Outcome.choices)
    # Why the machine could not support a certificate on that day; empty: it could.
    machine_problems = models.JSONField(default=list, blank=True)
    reasons = models.JSONField(default=list, blank=True)
    note = models.CharField(max_length=300, blank=True)
    recorded_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(peak_n__gt=0, required_n__gt=0), name="breaking_test_has_forces"
            ),
            models.CheckConstraint(
                condition=Q(is_break_place_known=True) | Q(break_distance_mm=None),
                name="breaking_test_break_place_is_whole",
            ),
            models.CheckConstraint(
                condition=Q(free_length_asked_mm=None, free_length_source="")
                | (Q(free_length_asked_mm__isnull=False) & ~Q(free_length_source="")),
                name="breaking_test_free_length_asked_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"breaking-force test {self.code}"
