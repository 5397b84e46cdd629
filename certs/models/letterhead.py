"""Letterheads: under which name, address and accreditation the house issues its papers."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class Letterhead(models.Model):
    """What stands at the head of papers issued from `set_at` on; a change is a new row.

    Each paper keeps the words and the logo that it was issued with.
    """

    name = models.CharField(max_length=120)
    address = models.TextField()
    # Telephone, e-mail, web: lines as they are to be printed.
    contact = models.TextField(blank=True)
    # Register number, tax number: what local law wants on a letter.
    registration = models.CharField(max_length=200, blank=True)
    # In the accrediting body's own words, with its number and scope. It is not checked.
    accreditation = models.CharField(max_length=300, blank=True)
    logo = models.ForeignKey(
        "inventory.StoredFile",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="letterheads",
    )
    set_at = models.DateTimeField()
    set_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=~Q(name="") & ~Q(address=""), name="letterhead_has_name_and_address"
            ),
        ]

    def __str__(self) -> str:
        return f"letterhead of {self.name} from {self.set_at:%Y-%m-%d}"
