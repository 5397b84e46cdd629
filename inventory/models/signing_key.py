"""Public keys of the house, kept for ever; the private halves lie outside the database."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class SigningKey(models.Model):
    """A key by its name. A retired key signs no more, and what it signed stays valid."""

    class Purpose(models.TextChoices):
        LOG = "log", "checkpoints of the journal"
        CREDENTIAL = "credential", "certificates that machines read"
        PAPER = "paper", "PDF papers"

    purpose = models.CharField(max_length=12, choices=Purpose.choices)
    name = models.CharField(max_length=80, unique=True)
    # Ed25519: the 32 bytes. P-256: SubjectPublicKeyInfo in DER. Both in base64.
    public_key = models.TextField()
    # The chain of a paper key, its own certificate first; empty for the others.
    certificate_pem = models.TextField(blank=True)
    is_evaluation = models.BooleanField()
    added_at = models.DateTimeField()
    added_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    retired_at = models.DateTimeField(null=True, blank=True)
    revoked_at = models.DateTimeField(null=True, blank=True)
    revoke_reason = models.CharField(max_length=300, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(purpose__in=["log", "credential"], certificate_pem="")
                | (Q(purpose="paper") & ~Q(certificate_pem="")),
                name="signing_key_of_papers_has_a_certificate",
            ),
            models.CheckConstraint(
                condition=~Q(name="") & ~Q(public_key=""), name="signing_key_is_whole"
            ),
            models.CheckConstraint(
                condition=Q(revoked_at=None, revoke_reason="")
                | (Q(revoked_at__isnull=False) & ~Q(revoke_reason="")),
                name="signing_key_revocation_has_a_reason",
            ),
        ]

    def __str__(self) -> str:
        return f"key {self.name}"
