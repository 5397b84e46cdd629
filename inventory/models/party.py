"""Parties: the mills that make rope, the makers of fittings, the customers who buy."""

from typing import ClassVar

from django.db import models


class Party(models.Model):
    """A firm we buy from or sell to. Its code, never its name, goes into the journal."""

    class Kind(models.TextChoices):
        MILL = "mill", "mill"
        FITTING_MAKER = "fitting_maker", "maker of fittings"
        CUSTOMER = "customer", "customer"

    code = models.CharField(max_length=16, unique=True)
    kind = models.CharField(max_length=16, choices=Kind.choices)
    name = models.CharField(max_length=120)
    address = models.TextField(blank=True)
    registered_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["kind", "name"],
                name="party_name_once_per_kind",
                violation_error_message="A party of this kind and name is registered already.",
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="party_has_a_name"),
        ]

    def __str__(self) -> str:
        return f"{self.name} ({self.code})"
