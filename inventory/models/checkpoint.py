"""Signed checkpoints: what the journal's root was at a size, for others to keep."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class Checkpoint(models.Model):
    """The signed note over the first `size` entries. `note` is its whole text."""

    size = models.PositiveBigIntegerField(unique=True)
    root = models.CharField(max_length=64)
    note = models.TextField()
    key = models.ForeignKey("inventory.SigningKey", on_delete=models.PROTECT, related_name="+")
    made_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(root__length=64) & ~Q(note=""), name="checkpoint_is_whole"
            ),
        ]

    def __str__(self) -> str:
        return f"checkpoint of {self.size} entries"
