"""The stored nodes of the journal's hash tree, so that a proof is read and not computed anew.

Only complete subtrees are stored, from level 1 on: they never change once they are there. The
leaves are the entries themselves.
"""

from typing import ClassVar

from django.db import models
from django.db.models import Q


class MerkleNode(models.Model):
    """The root of the complete subtree over leaves index · 2^level to (index + 1) · 2^level."""

    level = models.PositiveSmallIntegerField()
    index = models.PositiveBigIntegerField()
    hash = models.CharField(max_length=64)

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["level", "index"], name="merkle_node_has_its_place"),
            models.CheckConstraint(
                condition=Q(level__gte=1, hash__length=64), name="merkle_node_is_whole"
            ),
        ]

    def __str__(self) -> str:
        return f"node {self.index} of level {self.level}"
