"""What was found when a reel was compared with its specification at goods in."""

from typing import ClassVar

from django.db import models
from django.db.models import Q

READINGS = ("place1_a_nm", "place1_b_nm", "place2_a_nm", "place2_b_nm")


def _all_or_none(*names: str) -> Q:
    none = Q(**dict.fromkeys(names))
    return none | Q(**{f"{name}__isnull": False for name in names})


class ReceivingCheck(models.Model):
    """One comparison of a reel with mill document, measurements and tables; the last one stands.

    Readings are diameters over the crowns, two at right angles in each of two places.
    """

    class Outcome(models.TextChoices):
        AGREES = "agrees", "agrees"
        CANNOT_SAY = "cannot_say", "cannot be said in every point"
        DISAGREES = "disagrees", "does not agree"

    code = models.CharField(max_length=16, unique=True)
    reel = models.ForeignKey(
        "inventory.Reel", on_delete=models.PROTECT, related_name="receiving_checks"
    )
    # Whose diameter limits were applied; empty: those of the agreed specification, or none.
    standard = models.CharField(max_length=60, blank=True)
    agreed = models.ForeignKey(
        "certs.AgreedSpecification",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
    )
    place1_a_nm = models.PositiveBigIntegerField(null=True, blank=True)
    place1_b_nm = models.PositiveBigIntegerField(null=True, blank=True)
    place2_a_nm = models.PositiveBigIntegerField(null=True, blank=True)
    place2_b_nm = models.PositiveBigIntegerField(null=True, blank=True)
    weighed_length_mm = models.PositiveBigIntegerField(null=True, blank=True)
    weighed_mass_g = models.PositiveBigIntegerField(null=True, blank=True)
    # As the mill document states it, such as "B"; empty: it states none.
    zinc_class = models.CharField(max_length=8, blank=True)
    as_given = models.JSONField(default=dict, blank=True)
    findings = models.JSONField(default=list, blank=True)
    outcome = models.CharField(max_length=12, choices=Outcome.choices)
    # A disagreement puts the reel on hold in the same act.
    hold = models.OneToOneField(
        "inventory.Hold",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="receiving_check",
    )
    note = models.CharField(max_length=300, blank=True)
    checked_at = models.DateTimeField()
    checked_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=_all_or_none(*READINGS), name="receiving_check_readings_are_whole"
            ),
            models.CheckConstraint(
                condition=_all_or_none("weighed_length_mm", "weighed_mass_g"),
                name="receiving_check_weighing_is_whole",
            ),
            models.CheckConstraint(
                condition=~Q(outcome="disagrees") | Q(hold__isnull=False),
                name="receiving_check_disagreement_holds",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["reel", "-id"], name="receiving_check_latest"),
        ]

    def __str__(self) -> str:
        return f"receiving check {self.code}"
