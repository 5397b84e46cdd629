"""Forms that were sent and acted on: the same form sent twice acts once."""

from typing import ClassVar

from django.db import models


class SentForm(models.Model):
    """The random token of one form that a page showed. No part of the record: it may be purged."""

    token = models.CharField(max_length=43, unique=True)
    sent_at = models.DateTimeField()

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(condition=models.Q(token__length=43), name="sent_form_token"),
        ]

    def __str__(self) -> str:
        return f"form {self.token[:6]}…"
