"""Reports from site: someone at a tag saw damage, or worse, and said so."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class SiteReport(models.Model):
    """What was reported at a tag, with the trace as it was at that moment."""

    class Kind(models.TextChoices):
        DAMAGE = "damage", "damage seen"
        FAILURE = "failure", "it broke or slipped"
        TAG = "tag", "tag illegible, or not on the thing that it describes"
        OTHER = "other", "something else"

    code = models.CharField(max_length=16, unique=True)
    tag = models.ForeignKey("certs.Tag", on_delete=models.PROTECT, related_name="site_reports")
    kind = models.CharField(max_length=12, choices=Kind.choices)
    words = models.CharField(max_length=2000)
    # How to reach the reporter, if he said so: personal data, which can be forgotten.
    contact = models.CharField(max_length=200, blank=True)
    trace = models.JSONField()
    received_at = models.DateTimeField()

    # Set when someone of the house takes it up and closes it.
    hold = models.ForeignKey(
        "inventory.Hold",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="site_reports",
    )
    closed_at = models.DateTimeField(null=True, blank=True)
    closed_by = models.ForeignKey(
        "inventory.Person", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    close_reason = models.CharField(max_length=400, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(condition=~Q(words=""), name="site_report_has_words"),
            models.CheckConstraint(
                condition=Q(closed_at=None, closed_by=None, close_reason="")
                | (Q(closed_at__isnull=False, closed_by__isnull=False) & ~Q(close_reason="")),
                name="site_report_closing_is_whole",
            ),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["-id"], condition=Q(closed_at=None), name="site_report_open"),
        ]

    def __str__(self) -> str:
        return f"site report {self.code}"


class SitePhoto(models.Model):
    """A photograph of a report, kept without what the camera wrote into it."""

    report = models.ForeignKey(SiteReport, on_delete=models.PROTECT, related_name="photos")
    file = models.ForeignKey("inventory.StoredFile", on_delete=models.PROTECT, related_name="+")
    # Of the bytes as they were sent; the sender can show later that it was his photograph.
    original_sha256 = models.CharField(max_length=64)
    position = models.PositiveSmallIntegerField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["report", "position"], name="site_photo_has_its_place"),
            models.CheckConstraint(
                condition=Q(original_sha256__length=64), name="site_photo_hash_is_whole"
            ),
        ]

    def __str__(self) -> str:
        return f"photograph {self.position} of report {self.report_id}"
