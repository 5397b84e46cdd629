"""Finds people by the name they sign in with, and tells who has a second step."""

from django.db.models import Exists, OuterRef, QuerySet
from django_otp.plugins.otp_totp.models import TOTPDevice

from inventory.models import Person
from inventory.queries.registers import people


def person_of_name(username: str) -> Person | None:
    """Return the person of this user name."""
    return Person.objects.filter(username=username).first()


def people_with_step() -> QuerySet[Person]:
    """Return everyone, by user name, with `has_second_step`: whether an app is set up."""
    apps = TOTPDevice.objects.filter(user=OuterRef("pk"), confirmed=True)
    return people().annotate(has_second_step=Exists(apps))
