"""Tells every template which claims the reader may make, so that it offers no dead end."""

from django.http import HttpRequest

from certs.pages.acting import claims_of
from inventory.models import Person


def claims_allowed(request: HttpRequest) -> dict[str, frozenset[str]]:
    """Give `allowed_claims`: the acts on claims that the reader's role includes."""
    user = getattr(request, "user", None)
    role = user.role if isinstance(user, Person) else ""
    return {"allowed_claims": claims_of(role)}
