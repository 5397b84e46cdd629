"""Holds: something is in doubt, and so is everything made from it until the hold is released."""

from typing import ClassVar

from django.db import models
from django.db.models import F, Q

SUBJECTS = ("heat", "reel", "fitting_lot", "testing_machine", "piece", "assembly")


def _exactly_one_subject() -> Q:
    condition = Q()
    for chosen in SUBJECTS:
        only = {f"{name}__isnull": name != chosen for name in SUBJECTS}
        condition |= Q(**only)
    return condition


class Hold(models.Model):
    """A hold on one thing; on a reel it may be on a stretch of its metres."""

    code = models.CharField(max_length=16, unique=True)
    heat = models.ForeignKey(
        "inventory.Heat", on_delete=models.PROTECT, null=True, blank=True, related_name="holds"
    )
    reel = models.ForeignKey(
        "inventory.Reel", on_delete=models.PROTECT, null=True, blank=True, related_name="holds"
    )
    from_mm = models.PositiveBigIntegerField(null=True, blank=True)
    to_mm = models.PositiveBigIntegerField(null=True, blank=True)
    fitting_lot = models.ForeignKey(
        "inventory.FittingLot",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="holds",
    )
    testing_machine = models.ForeignKey(
        "inventory.TestingMachine",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="holds",
    )
    piece = models.ForeignKey(
        "inventory.CutPiece", on_delete=models.PROTECT, null=True, blank=True, related_name="holds"
    )
    assembly = models.ForeignKey(
        "inventory.Assembly", on_delete=models.PROTECT, null=True, blank=True, related_name="holds"
    )
    reason = models.CharField(max_length=300)
    placed_at = models.DateTimeField()
    placed_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    released_at = models.DateTimeField(null=True, blank=True)
    released_by = models.ForeignKey(
        "inventory.Person", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    release_reason = models.CharField(max_length=300, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(condition=_exactly_one_subject(), name="hold_has_one_subject"),
            models.CheckConstraint(
                condition=Q(from_mm=None, to_mm=None)
                # A comparison with nothing is neither true nor false, and then passes.
                | Q(
                    reel__isnull=False,
                    from_mm__isnull=False,
                    to_mm__isnull=False,
                    to_mm__gt=F("from_mm"),
                ),
                name="hold_stretch_is_of_a_reel",
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="hold_has_a_reason"),
            models.CheckConstraint(
                condition=Q(released_at=None, released_by=None, release_reason="")
                | (Q(released_at__isnull=False, released_by__isnull=False) & ~Q(release_reason="")),
                name="hold_release_is_whole",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["reel"], condition=Q(released_at=None), name="hold_standing"),
        ]

    def __str__(self) -> str:
        return f"hold {self.code}"
