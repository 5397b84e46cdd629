"""The entry that takes back a test that was recorded wrongly."""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class TestReversal(models.Model):
    """Names a test that never was as recorded. The test stays readable, and counts for nothing."""

    breaking_test = models.OneToOneField(
        "certs.BreakingTest",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="reversal",
    )
    proof_test = models.OneToOneField(
        "certs.ProofTest", on_delete=models.PROTECT, null=True, blank=True, related_name="reversal"
    )
    wire_test = models.OneToOneField(
        "certs.WireTest", on_delete=models.PROTECT, null=True, blank=True, related_name="reversal"
    )
    reason = models.CharField(max_length=300)
    reversed_at = models.DateTimeField()
    reversed_by = models.ForeignKey("inventory.Person", on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=Q(breaking_test=None, proof_test__isnull=False, wire_test=None)
                | Q(breaking_test__isnull=False, proof_test=None, wire_test=None)
                | Q(breaking_test=None, proof_test=None, wire_test__isnull=False),
                name="test_reversal_names_one_test",
            ),
            models.CheckConstraint(condition=~Q(reason=""), name="test_reversal_has_a_reason"),
        ]

    def __str__(self) -> str:
        return f"reversal of {self.breaking_test or self.proof_test or self.wire_test}"
