"""Heats (casts) of steel, as the mill names and analyses them."""

from typing import ClassVar

from django.db import models


class Heat(models.Model):
    """One cast of one mill. `analysis` holds the ladle analysis: element symbol to mass %, text.

    The figures are kept as the mill printed them: "0.72" and "0.720" are different statements.
    """

    code = models.CharField(max_length=16, unique=True)
    mill = models.ForeignKey("inventory.Party", on_delete=models.PROTECT, related_name="heats")
    number = models.CharField(max_length=40)
    steel_name = models.CharField(max_length=40)
    analysis = models.JSONField(default=dict, blank=True)
    recorded_at = models.DateTimeField()
    recorded_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["mill", "number"],
                name="heat_number_once_per_mill",
                violation_error_message="This mill's heat is recorded already.",
            ),
            models.CheckConstraint(condition=~models.Q(number=""), name="heat_has_a_number"),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["number"], name="heat_by_number"),
        ]

    def __str__(self) -> str:
        return f"heat {self.number} of {self.mill.code}"
