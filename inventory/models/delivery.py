"""What left the house, when, and to which customer."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class Delivery(models.Model):
    """Goods handed to one customer at one time."""

    code = models.CharField(max_length=16, unique=True)
    customer = models.ForeignKey(
        "inventory.Party", on_delete=models.PROTECT, related_name="deliveries"
    )
    order = models.ForeignKey(
        "inventory.Order",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="deliveries",
    )
    note = models.CharField(max_length=200, blank=True)
    delivered_at = models.DateTimeField()
    delivered_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name_plural = "deliveries"

    def __str__(self) -> str:
        return f"delivery {self.code}"


class DeliveryItem(models.Model):
    """One cut piece or one assembly; neither leaves twice."""

    delivery = models.ForeignKey(Delivery, on_delete=models.PROTECT, related_name="items")
    piece = models.OneToOneField(
        "inventory.CutPiece",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="delivery_item",
    )
    assembly = models.OneToOneField(
        "inventory.Assembly",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="delivery_item",
    )

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(piece__isnull=False, assembly=None)
                | Q(piece=None, assembly__isnull=False),
                name="delivery_item_is_one_thing",
            ),
        ]

    def __str__(self) -> str:
        return f"item of delivery {self.delivery_id}"
