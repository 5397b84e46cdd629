"""What a customer asked for, line by line."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class Order(models.Model):
    """A customer's order. Prices are none of this record's business."""

    code = models.CharField(max_length=16, unique=True)
    customer = models.ForeignKey("inventory.Party", on_delete=models.PROTECT, related_name="orders")
    customer_reference = models.CharField(max_length=60, blank=True)
    placed_at = models.DateTimeField()
    placed_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    def __str__(self) -> str:
        return f"order {self.code}"


class OrderLine(models.Model):
    """A length of a rope. It is one length in one piece unless the customer asked otherwise."""

    class DocumentKind(models.TextChoices):
        NONE = "none", "none asked for"
        DECLARATION = "2.1", "2.1"
        TEST_REPORT = "2.2", "2.2"
        CERTIFICATE_31 = "3.1", "3.1"
        CERTIFICATE_32 = "3.2", "3.2"

    class Together(models.TextChoices):
        NOT_ASKED = "not_asked", "not asked for"
        ONE_HEAT = "one_heat", "all of the same heats"
        ONE_REEL = "one_reel", "all from one reel"

    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="lines")
    position = models.PositiveIntegerField()
    designation = models.CharField(max_length=80)
    length_mm = models.PositiveBigIntegerField()
    quantity = models.PositiveIntegerField(default=1)
    as_one_length = models.BooleanField(default=True)
    together = models.CharField(max_length=12, choices=Together.choices, default=Together.NOT_ASKED)
    as_given = models.JSONField(default=dict, blank=True)
    tolerance_minus_mm = models.PositiveIntegerField(default=0)
    tolerance_plus_mm = models.PositiveIntegerField(default=0)
    # EN 10204: the type is agreed at the order and cannot be raised afterwards.
    document_kind = models.CharField(
        max_length=4, choices=DocumentKind.choices, default=DocumentKind.NONE
    )

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["order", "position"], name="order_line_position_once"),
            models.CheckConstraint(
                condition=Q(length_mm__gt=0, quantity__gt=0), name="order_line_asks_for_something"
            ),
        ]

    def __str__(self) -> str:
        return f"line {self.position} of order {self.order_id}"
