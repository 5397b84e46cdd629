"""Recall notices: the letter to one customer about what a hold has put in doubt."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class RecallNotice(models.Model):
    """A letter and what became of it. What it says is frozen in `facts` and in the file."""

    code = models.CharField(max_length=16, unique=True)
    hold = models.ForeignKey(
        "inventory.Hold", on_delete=models.PROTECT, related_name="recall_notices"
    )
    customer = models.ForeignKey(
        "inventory.Party", on_delete=models.PROTECT, related_name="recall_notices"
    )
    facts = models.JSONField()
    letter = models.ForeignKey("inventory.StoredFile", on_delete=models.PROTECT, related_name="+")
    written_at = models.DateTimeField()
    written_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    # Set once, when it left the house.
    sent_at = models.DateTimeField(null=True, blank=True)
    sent_by = models.ForeignKey(
        "inventory.Person", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    sent_how = models.CharField(max_length=120, blank=True)

    # Set once, when the customer answered.
    acknowledged_at = models.DateTimeField(null=True, blank=True)
    acknowledged_by = models.CharField(max_length=120, blank=True)
    acknowledgement = models.CharField(max_length=400, blank=True)
    acknowledgement_recorded_by = models.ForeignKey(
        "inventory.Person", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(sent_at=None, sent_by=None, sent_how="")
                | (Q(sent_at__isnull=False, sent_by__isnull=False) & ~Q(sent_how="")),
                name="recall_notice_sending_is_whole",
            ),
            models.CheckConstraint(
                condition=Q(
                    acknowledged_at=None,
                    acknowledged_by="",
                    acknowledgement="",
                    acknowledgement_recorded_by=None,
                )
                | (
                    Q(
                        sent_at__isnull=False,
                        acknowledged_at__isnull=False,
                        acknowledgement_recorded_by__isnull=False,
                    )
                    & ~Q(acknowledged_by="")
                ),
                name="recall_notice_acknowledgement_is_whole",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(
                fields=["hold"], condition=Q(acknowledged_at=None), name="recall_notice_open"
            ),
        ]

    def __str__(self) -> str:
        return f"recall notice {self.code}"
