"""Tells every template which claims the reader may make, so that it offers no dead end."""

from django.http import HttpRequest

from certs.rules.roles import ALLOWED
from inventory.models import Person


def claims_allowed(request: HttpRequest) -> dict[str, frozenset[str]]:
    """Give `allowed_claims`: the acts on claims that the reader's role includes."""
    user = getattr(request, "user", None)
    role = user.role if isinstance(user, Person) else ""
    allowed = frozenset(act.value for act, roles in ALLOWED.items() if role in roles)
    return {"allowed_claims": allowed}
