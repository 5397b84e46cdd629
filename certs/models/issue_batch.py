"""Batches: many drafts handed over to be issued, and what became of each. No part of the record.

What was issued is told by the certificates and the journal; these rows tell how far a batch is.
"""

from typing import ClassVar

from django.db import models
from django.db.models import F, Q


class IssueBatch(models.Model):
    """Drafts that one person handed over together."""

    code = models.CharField(max_length=16, unique=True)
    started_at = models.DateTimeField()
    started_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    # When a worker last moved it on; an old time says that nobody works on it.
    moved_at = models.DateTimeField()
    stop_asked_at = models.DateTimeField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(finished_at=None) | Q(finished_at__gte=F("started_at")),
                name="issue_batch_ends_after_it_starts",
            ),
        ]

    def __str__(self) -> str:
        return f"batch {self.code}"


class IssueBatchLine(models.Model):
    """One draft of a batch, by its code: a draft that is thrown away leaves the line standing."""

    class Outcome(models.TextChoices):
        WAITING = "waiting", "waits"
        ISSUED = "issued", "issued"
        STAYED = "stayed", "stayed a draft"
        LEFT_OUT = "left_out", "not begun"

    batch = models.ForeignKey(IssueBatch, on_delete=models.CASCADE, related_name="lines")
    position = models.PositiveIntegerField()
    draft_code = models.CharField(max_length=16)
    outcome = models.CharField(max_length=8, choices=Outcome.choices, default=Outcome.WAITING)
    # The number of the certificate, if issued; why not, if it stayed a draft.
    number = models.CharField(max_length=24, blank=True)
    reason = models.TextField(blank=True)
    settled_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["batch", "draft_code"], name="issue_batch_names_a_draft_once"
            ),
            models.UniqueConstraint(
                fields=["batch", "position"], name="issue_batch_line_has_its_place"
            ),
            models.CheckConstraint(
                condition=(
                    Q(outcome="waiting", number="", reason="", settled_at=None)
                    | (Q(outcome="issued", reason="", settled_at__isnull=False) & ~Q(number=""))
                    | (
                        Q(outcome__in=["stayed", "left_out"], number="")
                        & Q(settled_at__isnull=False)
                        & ~Q(reason="")
                    )
                ),
                name="issue_batch_line_says_what_became_of_it",
            ),
        ]

    def __str__(self) -> str:
        return f"draft {self.draft_code} of batch {self.batch_id}"
