"""The register of those who may validate an inspection document (EN 10204)."""

from typing import ClassVar

from django.db import models
from django.db.models import F, Q


class Representative(models.Model):
    """An authorised inspection representative, for whom and between which days."""

    class Capacity(models.TextChoices):
        MANUFACTURER = "manufacturer", "the manufacturer's authorised inspection representative"
        PURCHASER = "purchaser", "the purchaser's authorised inspection representative"
        OFFICIAL = "official", "inspector designated by regulation"

    person = models.ForeignKey(
        "inventory.Person", on_delete=models.PROTECT, related_name="representations"
    )
    capacity = models.CharField(max_length=16, choices=Capacity.choices)
    organisation = models.CharField(max_length=120)
    is_independent = models.BooleanField(
        help_text="Independent of the department that makes the product."
    )
    valid_from_date = models.DateField()
    valid_to_date = models.DateField(null=True, blank=True)
    registered_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(valid_to_date=None) | Q(valid_to_date__gte=F("valid_from_date")),
                name="representative_dates_in_order",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} for {self.organisation}"
