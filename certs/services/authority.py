"""Decides whether a person may act upon the claims; every service of claims asks here first."""

from certs.rules.roles import ClaimAct, may
from inventory.models import Person
from inventory.rules.roles import Role
from inventory.services.authority import NotAllowed, refusal_text


def require(*, by: Person, act: ClaimAct) -> None:
    """Refuse unless the person's role allows the act.

    Raises NotAllowed, with a sentence that names the role and the act.
    """
    if by.is_active and may(Role(by.role), act):
        return
    raise NotAllowed(refusal_text(by=by, act=act.value))
