"""Finds people by the name they sign in with."""

from inventory.models import Person


def person_of_name(username: str) -> Person | None:
    """Return the person of this user name."""
    return Person.objects.filter(username=username).first()
