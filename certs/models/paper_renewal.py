"""Renewals: a later time stamp upon a paper, so that its signature can be proved for longer.

The paper that was issued, and its hash, never change; the renewed file stands beside it.
"""

from typing import ClassVar

from django.db import models


class PaperRenewal(models.Model):
    """The file of a certificate with one more archival time stamp in it."""

    certificate = models.ForeignKey(
        "certs.Certificate", on_delete=models.PROTECT, related_name="renewals"
    )
    file = models.OneToOneField(
        "inventory.StoredFile", on_delete=models.PROTECT, related_name="renewal"
    )
    # When the certificate of the time stamp ends: before that the next one is due.
    good_until = models.DateTimeField()
    made_at = models.DateTimeField()
    made_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["certificate", "-made_at"], name="renewal_by_certificate"),
        ]

    def __str__(self) -> str:
        return f"renewal of certificate {self.certificate_id}"
