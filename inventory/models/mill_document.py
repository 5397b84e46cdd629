"""Papers that came with the goods, with the scan that was received.

A mill document is a thing that arrived, so it stands here and not among the claims.
"""

from typing import ClassVar

from django.db import models


class MillDocument(models.Model):
    """An inspection document of a maker (EN 10204), original or copy."""

    class Kind(models.TextChoices):
        DECLARATION = "2.1", "2.1 declaration of compliance"
        TEST_REPORT = "2.2", "2.2 test report"
        CERTIFICATE_31 = "3.1", "3.1 inspection certificate"
        CERTIFICATE_32 = "3.2", "3.2 inspection certificate"
        HISTORIC_31A = "3.1.A", "3.1.A (before 2004)"
        HISTORIC_31B = "3.1.B", "3.1.B (before 2004)"
        HISTORIC_31C = "3.1.C", "3.1.C (before 2004)"
        OTHER = "other", "other paper"

    class Form(models.TextChoices):
        ORIGINAL = "original", "original held"
        COPY = "copy", "copy; the original can be produced"
        COPY_ONLY = "copy_only", "copy; the original cannot be produced"

    code = models.CharField(max_length=16, unique=True)
    mill = models.ForeignKey("inventory.Party", on_delete=models.PROTECT, related_name="documents")
    number = models.CharField(max_length=60)
    kind = models.CharField(max_length=8, choices=Kind.choices)
    form = models.CharField(max_length=12, choices=Form.choices, default=Form.ORIGINAL)
    issued_date = models.DateField()
    validated_by = models.CharField(
        max_length=120, blank=True, help_text="Name and function of who validated it."
    )
    file = models.ForeignKey("inventory.StoredFile", on_delete=models.PROTECT, related_name="+")
    filed_at = models.DateTimeField()
    filed_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(
                fields=["mill", "number"],
                name="mill_document_number_once_per_mill",
                violation_error_message="A document of this number is filed for this mill already.",
            ),
            models.CheckConstraint(
                condition=~models.Q(number=""), name="mill_document_has_a_number"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.number}"
