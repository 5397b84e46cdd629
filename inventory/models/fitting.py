"""Fittings: ferrules, thimbles, sockets and terminals, bought and traced in lots."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class FittingLot(models.Model):
    """Fittings of one make, size and delivery."""

    class Kind(models.TextChoices):
        FERRULE = "ferrule", "ferrule"
        THIMBLE = "thimble", "thimble"
        SOCKET = "socket", "socket"
        TERMINAL = "terminal", "swage terminal"
        WEDGE_SOCKET = "wedge_socket", "wedge socket"
        GRIP = "grip", "U-bolt grip"
        LINK = "link", "link or hook"

    code = models.CharField(max_length=16, unique=True)
    kind = models.CharField(max_length=16, choices=Kind.choices)
    maker = models.ForeignKey(
        "inventory.Party", on_delete=models.PROTECT, related_name="fitting_lots"
    )
    maker_lot_number = models.CharField(max_length=60)
    description = models.CharField(max_length=120)
    material = models.CharField(max_length=60, blank=True)
    for_diameter_nm = models.PositiveBigIntegerField(null=True, blank=True)
    # As marked by its maker, in kg; null: it bears no such mark.
    rated_kg = models.PositiveIntegerField(null=True, blank=True)
    quantity = models.PositiveIntegerField()
    heat = models.ForeignKey(
        "inventory.Heat",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="fitting_lots",
    )
    document = models.ForeignKey(
        "inventory.MillDocument",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="fitting_lots",
    )
    received_at = models.DateTimeField()
    received_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["maker", "maker_lot_number"], name="fitting_lot_number_once_per_maker"
            ),
            models.CheckConstraint(condition=Q(quantity__gt=0), name="fitting_lot_is_not_empty"),
        ]

    def __str__(self) -> str:
        return f"fitting lot {self.code}: {self.description}"
