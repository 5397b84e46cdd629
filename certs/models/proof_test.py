"""Proof-load tests on assemblies, with the force log the machine wrote."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class ProofTest(models.Model):
    """One proof load. Peak, plateau and hold are found from the log, never typed."""

    class Outcome(models.TextChoices):
        PASSES = "passes", "passes"
        FAILS = "fails", "fails"
        CANNOT_SAY = "cannot_say", "cannot be said"

    code = models.CharField(max_length=16, unique=True)
    assembly = models.ForeignKey(
        "inventory.Assembly", on_delete=models.PROTECT, related_name="proof_tests"
    )
    machine = models.ForeignKey(
        "inventory.TestingMachine", on_delete=models.PROTECT, related_name="proof_tests"
    )
    calibration = models.ForeignKey(
        "inventory.Calibration",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="proof_tests",
    )
    tested_at = models.DateTimeField()
    tested_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    required_n = models.PositiveBigIntegerField()
    required_hold_s = models.PositiveIntegerField()
    ceiling_n = models.PositiveBigIntegerField(null=True, blank=True)
    rule = models.CharField(max_length=200, help_text="Where the proof load comes from.")
    log = models.ForeignKey("inventory.StoredFile", on_delete=models.PROTECT, related_name="+")
    log_force_unit = models.CharField(max_length=12, blank=True)
    log_time_unit = models.CharField(max_length=12, blank=True)
    peak_n = models.PositiveBigIntegerField()
    plateau_from_ms = models.PositiveBigIntegerField(null=True, blank=True)
    plateau_to_ms = models.PositiveBigIntegerField(null=True, blank=True)
    plateau_lowest_n = models.PositiveBigIntegerField(null=True, blank=True)
    line_problems = models.JSONField(default=list, blank=True)
    before_is_good = models.BooleanField()
    before_note = models.CharField(max_length=300, blank=True)
    after_is_good = models.BooleanField()
    after_note = models.CharField(max_length=300, blank=True)
    # The same gauge length, unloaded, before and after: what stays is permanent extension.
    gauge_before_um = models.PositiveBigIntegerField(null=True, blank=True)
    gauge_after_um = models.PositiveBigIntegerField(null=True, blank=True)
    # The most that may stay, in per cent of the gauge length, where order or standard says so.
    extension_limit_pct = models.CharField(max_length=8, blank=True)
    decision_rule = models.ForeignKey(
        "certs.DecisionRule", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    # Budget of the force's uncertainty and the decision, as they stood on that day.
    uncertainty = models.JSONField(default=dict, blank=True)
    decision = models.JSONField(default=dict, blank=True)
    as_given = models.JSONField(default=dict, blank=True)
    outcome = models.CharField(max_length=12, choices=Outcome.choices)
    machine_problems = models.JSONField(default=list, blank=True)
    reasons = models.JSONField(default=list, blank=True)
    recorded_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(peak_n__gt=0, required_n__gt=0), name="proof_test_has_forces"
            ),
            models.CheckConstraint(
                condition=Q(plateau_from_ms=None, plateau_to_ms=None, plateau_lowest_n=None)
                | Q(
                    plateau_from_ms__isnull=False,
                    plateau_to_ms__isnull=False,
                    plateau_to_ms__gte=models.F("plateau_from_ms"),
                    plateau_lowest_n__isnull=False,
                ),
                name="proof_test_plateau_is_whole",
            ),
            models.CheckConstraint(
                condition=Q(gauge_before_um=None, gauge_after_um=None, extension_limit_pct="")
                | Q(gauge_before_um__gt=0, gauge_after_um__gt=0),
                name="proof_test_gauge_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"proof-load test {self.code}"
