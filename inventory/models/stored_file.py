"""Files that are evidence, kept once under the SHA-256 of their bytes."""

from typing import ClassVar

from django.db import models
from django.db.models.functions import Length

models.CharField.register_lookup(Length)


class StoredFile(models.Model):
    """The bytes themselves lie in the storage at `path`; the hash tells whether they still do."""

    sha256 = models.CharField(max_length=64, unique=True)
    media_type = models.CharField(max_length=64)
    size_bytes = models.PositiveBigIntegerField()
    name = models.CharField(max_length=200)
    path = models.CharField(max_length=200)
    kept_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=models.Q(sha256__length=64), name="stored_file_hash_is_whole"
            ),
            models.CheckConstraint(
                condition=models.Q(size_bytes__gt=0), name="stored_file_is_not_empty"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.name} (SHA-256 {self.sha256[:12]}…)"
