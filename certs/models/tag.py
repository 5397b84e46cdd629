"""Tags: the code on the goods or on the paper that leads a stranger to the record."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class Tag(models.Model):
    """A random code that names one thing. A damaged or lost tag is revoked and replaced."""

    code = models.CharField(max_length=16, unique=True)
    piece = models.ForeignKey(
        "inventory.CutPiece", on_delete=models.PROTECT, null=True, blank=True, related_name="tags"
    )
    assembly = models.ForeignKey(
        "inventory.Assembly", on_delete=models.PROTECT, null=True, blank=True, related_name="tags"
    )
    certificate = models.ForeignKey(
        "certs.Certificate", on_delete=models.PROTECT, null=True, blank=True, related_name="tags"
    )
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")
    revoked_at = models.DateTimeField(null=True, blank=True)
    revoked_by = models.ForeignKey(
        "inventory.Person", on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    revoke_reason = models.CharField(max_length=300, blank=True)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=(
                    Q(piece__isnull=False, assembly=None, certificate=None)
                    | Q(piece=None, assembly__isnull=False, certificate=None)
                    | Q(piece=None, assembly=None, certificate__isnull=False)
                ),
                name="tag_names_one_thing",
            ),
            models.CheckConstraint(condition=Q(code__length=16), name="tag_code_is_whole"),
            models.CheckConstraint(
                condition=Q(revoked_at=None, revoked_by=None, revoke_reason="")
                | (Q(revoked_at__isnull=False, revoked_by__isnull=False) & ~Q(revoke_reason="")),
                name="tag_revocation_is_whole",
            ),
        ]

    def __str__(self) -> str:
        return f"tag {self.code[:4]}…"
