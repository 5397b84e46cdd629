"""Tensile tests of single wires, from which a rope's force and grade are calculated."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class WireTest(models.Model):
    """The wires of one rope, tested after unlaying or before laying (ISO 10425 5.1.4).

    The method is kept with the result: forces found by different methods are never mixed.
    """

    class Method(models.TextChoices):
        AFTER_UNLAYING = "after_unlaying", "method 2: wires taken from the rope"
        BEFORE_LAYING = "before_laying", "method 3: wires before laying"

    class Outcome(models.TextChoices):
        MEETS = "meets", "the calculated force meets the required force"
        FALLS_SHORT = "falls_short", "the calculated force falls short: break a sample"
        CANNOT_SAY = "cannot_say", "no calculated force"

    class GradeOutcome(models.TextChoices):
        SUPPORTS = "supports", "supports the marked grade"
        REFUTES = "refutes", "does not support the marked grade"
        CANNOT_SAY = "cannot_say", "says nothing of the grade"

    code = models.CharField(max_length=16, unique=True)
    reel = models.ForeignKey("inventory.Reel", on_delete=models.PROTECT, related_name="wire_tests")
    method = models.CharField(max_length=16, choices=Method.choices)
    # The piece that was unlaid; wires tested before laying have none, and a paper instead.
    sample = models.ForeignKey(
        "inventory.CutPiece",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="wire_tests",
    )
    paper = models.CharField(max_length=200, blank=True, help_text="The maker's paper.")
    machine = models.ForeignKey(
        "inventory.TestingMachine",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="wire_tests",
    )
    calibration = models.ForeignKey(
        "inventory.Calibration",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="wire_tests",
    )
    tested_at = models.DateTimeField()
    tested_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    required_n = models.PositiveBigIntegerField()
    # Partial (method 2) or total (method 3) spinning-loss factor; empty: none is known.
    spinning_factor = models.CharField(max_length=12, blank=True)
    spinning_source = models.CharField(max_length=200, blank=True)
    sum_n = models.PositiveBigIntegerField(null=True, blank=True)
    calculated_n = models.PositiveBigIntegerField(null=True, blank=True)
    supported_grade = models.CharField(max_length=12, blank=True)
    outcome = models.CharField(max_length=12, choices=Outcome.choices)
    grade_outcome = models.CharField(max_length=12, choices=GradeOutcome.choices)
    findings = models.JSONField(default=list, blank=True)
    machine_problems = models.JSONField(default=list, blank=True)
    as_given = models.JSONField(default=dict, blank=True)
    note = models.CharField(max_length=300, blank=True)
    recorded_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(condition=Q(required_n__gt=0), name="wire_test_has_a_force"),
            models.CheckConstraint(
                condition=Q(method="after_unlaying", sample__isnull=False, machine__isnull=False)
                | (Q(method="before_laying", sample=None) & ~Q(paper="")),
                name="wire_test_method_is_whole",
            ),
            models.CheckConstraint(
                condition=Q(calculated_n=None)
                | (Q(sum_n__isnull=False) & ~Q(spinning_factor="") & ~Q(spinning_source="")),
                name="wire_test_calculated_force_has_its_factor",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["reel", "-id"], name="wire_test_latest"),
        ]

    def __str__(self) -> str:
        return f"wire test {self.code}"


class WireResult(models.Model):
    """One wire, and how many wires of the rope it stands for."""

    test = models.ForeignKey(WireTest, on_delete=models.PROTECT, related_name="wires")
    position = models.PositiveIntegerField()
    layer = models.CharField(max_length=40)
    diameter_nm = models.PositiveBigIntegerField()
    represents = models.PositiveIntegerField(default=1)
    # In thousandths of a newton: a whole newton is too coarse for a thin wire.
    force_mn = models.PositiveBigIntegerField()
    # A second wire of the same place, tested because the first one failed.
    retest_force_mn = models.PositiveBigIntegerField(null=True, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["test", "position"], name="wire_result_position_once"),
            models.CheckConstraint(
                condition=Q(diameter_nm__gt=0, represents__gt=0), name="wire_result_is_a_wire"
            ),
        ]

    def __str__(self) -> str:
        return f"wire {self.position} of test {self.test_id}"
