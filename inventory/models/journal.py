"""The journal: one entry for every act, written in the act's own transaction, chained by hash.

Entries are never changed; guards in the database refuse it, and the chain shows it.
"""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class JournalEntry(models.Model):
    """Entry `number`, counted from 0 without a gap. `canonical` is RFC 8785 text."""

    number = models.PositiveBigIntegerField(unique=True)
    at = models.DateTimeField()
    act = models.CharField(max_length=40)
    subject = models.CharField(max_length=40)
    by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    canonical = models.TextField()
    leaf_hash = models.CharField(max_length=64)
    chain_hash = models.CharField(max_length=64)

    class Meta:
        verbose_name_plural = "journal entries"
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(leaf_hash__length=64, chain_hash__length=64),
                name="journal_hashes_are_whole",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["subject", "number"], name="journal_by_subject"),
        ]

    def __str__(self) -> str:
        return f"journal entry {self.number}: {self.act} {self.subject}"


class JournalHead(models.Model):
    """The one row that writers lock: how many entries there are, and the last chain hash."""

    size = models.PositiveBigIntegerField(default=0)
    chain_hash = models.CharField(max_length=64)
    # Roots of the complete subtrees that the entries make, the largest first, in hexadecimal.
    peaks = models.JSONField(default=list)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(condition=Q(id=1), name="journal_has_one_head"),
        ]

    def __str__(self) -> str:
        return f"journal of {self.size} entries"


class NumberSeries(models.Model):
    """A gapless series of numbers; the row is locked while the next one is taken."""

    series = models.CharField(max_length=24, unique=True)
    last = models.PositiveBigIntegerField(default=0)

    class Meta:
        verbose_name_plural = "number series"

    def __str__(self) -> str:
        return f"{self.series}: {self.last}"
