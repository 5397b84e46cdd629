"""People who sign in, each with one role; what a role may do stands in `inventory.rules.roles`."""

from typing import ClassVar

from django.contrib.auth.models import AbstractUser
from django.db import models

from inventory.rules.roles import Role


class Person(AbstractUser):
    """A person of the house, or an auditor or inspector who visits its record."""

    role = models.CharField(max_length=32, choices=[(r.value, r.words) for r in Role])
    # The journal names people by a salted hash only, so that an entry, which can never be
    # removed, holds no personal data: forgetting the salt forgets the person.
    journal_salt = models.CharField(max_length=64)

    REQUIRED_FIELDS: ClassVar[list[str]] = ["role", "journal_salt"]

    class Meta:
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.CheckConstraint(
                condition=models.Q(role__in=[r.value for r in Role]), name="person_role_is_known"
            ),
        ]

    def __str__(self) -> str:
        return self.get_full_name() or self.username
