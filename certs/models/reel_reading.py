"""Readings of how much rope is left on a reel, taken without unwinding it."""

from typing import ClassVar

from django.db import models
from django.db.models import F, Q

_DRUM = ("barrel_mm", "traverse_mm", "wound_mm")


class ReelReading(models.Model):
    """One reading: by weighing, or by the dimensions of drum and winding. The ledger stays."""

    class Kind(models.TextChoices):
        MASS = "mass", "by mass"
        DRUM = "drum", "by drum and winding"

    code = models.CharField(max_length=16, unique=True)
    reel = models.ForeignKey(
        "inventory.Reel", on_delete=models.PROTECT, related_name="length_readings"
    )
    kind = models.CharField(max_length=4, choices=Kind.choices)
    gross_g = models.PositiveBigIntegerField(null=True, blank=True)
    tare_g = models.PositiveBigIntegerField(null=True, blank=True)
    # Diameter of the barrel, width between the flanges, diameter over the winding.
    barrel_mm = models.PositiveIntegerField(null=True, blank=True)
    traverse_mm = models.PositiveIntegerField(null=True, blank=True)
    wound_mm = models.PositiveIntegerField(null=True, blank=True)
    # What the ledger had on the reel at that time.
    ledger_mm = models.PositiveBigIntegerField()
    as_given = models.JSONField(default=dict, blank=True)
    note = models.CharField(max_length=300, blank=True)
    taken_at = models.DateTimeField()
    taken_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(
                    kind="mass",
                    gross_g__isnull=False,
                    tare_g__isnull=False,
                    gross_g__gte=F("tare_g"),
                    **dict.fromkeys(_DRUM),
                )
                | Q(
                    kind="drum",
                    gross_g=None,
                    tare_g=None,
                    # A comparison with nothing is neither true nor false, and then passes.
                    barrel_mm__isnull=False,
                    traverse_mm__isnull=False,
                    wound_mm__isnull=False,
                    barrel_mm__gt=0,
                    traverse_mm__gt=0,
                    wound_mm__gte=F("barrel_mm"),
                ),
                name="reel_reading_is_whole",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["reel", "-id"], name="reel_reading_latest"),
        ]

    def __str__(self) -> str:
        return f"reading {self.code} of a reel"
