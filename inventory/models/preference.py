"""What a person prefers to read: units and time zone. No part of the record."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class Preference(models.Model):
    """How pages show figures to one person; without a row they are metric, in the house's zone."""

    class Units(models.TextChoices):
        METRIC = "metric", "metric: m, mm, kN, kg"
        US = "us", "US customary beside metric: ft, in, lbf, lb"

    person = models.OneToOneField(
        "inventory.Person", on_delete=models.CASCADE, related_name="preference"
    )
    units = models.CharField(max_length=8, choices=Units.choices, default=Units.METRIC)
    # A name of the IANA time zone database; empty is the zone of the house.
    time_zone = models.CharField(max_length=64, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(units__in=["metric", "us"]), name="preference_units_are_known"
            ),
        ]

    def __str__(self) -> str:
        return f"what {self.person_id} prefers"
