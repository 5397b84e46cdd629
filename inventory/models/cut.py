"""The metre ledger: every metre that leaves a reel is a cut piece, whatever its purpose.

The database refuses overlap and over-length by guards (`inventory.models.guards`).
"""

from typing import ClassVar

from django.db import models
from django.db.models import F, Q


class CutPiece(models.Model):
    """A half-open stretch `[from_mm, to_mm)` of one reel, in that reel's metres."""

    class Purpose(models.TextChoices):
        SUPPLY = "supply", "for supply"
        SAMPLE = "sample", "test sample"
        REWIND = "rewind", "for rewinding"
        SCRAP = "scrap", "scrap"

    class EndFinish(models.TextChoices):
        PLAIN = "plain", "plain cut"
        SEIZED = "seized", "seized"
        FUSED = "fused", "fused"
        TERMINATED = "terminated", "to be terminated"

    code = models.CharField(max_length=16, unique=True)
    reel = models.ForeignKey("inventory.Reel", on_delete=models.PROTECT, related_name="cuts")
    from_mm = models.PositiveBigIntegerField()
    to_mm = models.PositiveBigIntegerField()
    purpose = models.CharField(max_length=8, choices=Purpose.choices)
    order_line = models.ForeignKey(
        "inventory.OrderLine",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="pieces",
    )
    ordered_length_mm = models.PositiveBigIntegerField(null=True, blank=True)
    tolerance_minus_mm = models.PositiveIntegerField(default=0)
    tolerance_plus_mm = models.PositiveIntegerField(default=0)
    # The end towards metre 0 of the reel, and the end away from it.
    near_end = models.CharField(max_length=12, choices=EndFinish.choices, default=EndFinish.PLAIN)
    far_end = models.CharField(max_length=12, choices=EndFinish.choices, default=EndFinish.PLAIN)
    # What a person typed, where its unit is not that of the record: field to text.
    as_given = models.JSONField(default=dict, blank=True)
    note = models.CharField(max_length=200, blank=True)
    cut_at = models.DateTimeField()
    cut_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    is_reversed = models.BooleanField(default=False)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(to_mm__gt=F("from_mm")), name="cut_piece_has_length"
            ),
            models.CheckConstraint(
                condition=Q(ordered_length_mm=None)
                | Q(
                    to_mm__gte=F("from_mm") + F("ordered_length_mm") - F("tolerance_minus_mm"),
                    to_mm__lte=F("from_mm") + F("ordered_length_mm") + F("tolerance_plus_mm"),
                ),
                name="cut_piece_within_tolerance",
                violation_error_message="The length cut is outside its tolerance.",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["reel", "from_mm"], name="cut_by_metre"),
        ]

    def __str__(self) -> str:
        return f"cut piece {self.code}"

    @property
    def length_mm(self) -> int:
        """Length in whole millimetres."""
        return self.to_mm - self.from_mm


class CutReversal(models.Model):
    """The entry that takes back a wrong cut: the metres are on the reel again."""

    cut = models.OneToOneField(CutPiece, on_delete=models.PROTECT, related_name="reversal")
    reason = models.CharField(max_length=300)
    reversed_at = models.DateTimeField()
    reversed_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(condition=~Q(reason=""), name="cut_reversal_has_a_reason"),
        ]

    def __str__(self) -> str:
        return f"reversal of cut {self.cut_id}"
