"""Decides whether a person may act; every service asks here first."""

from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act, Role, may


class NotAllowed(Refusal):
    """The person's role does not include the act."""


def require(*, by: Person, act: Act) -> None:
    """Refuse unless the person's role allows the act.

    Raises:
        NotAllowed: with a sentence that names the role and the act.
    """
    if by.is_active and may(Role(by.role), act):
        return
    raise NotAllowed(refusal_text(by=by, act=act.value))


def refusal_text(*, by: Person, act: str) -> str:
    """Why this person may not act, in words."""
    role, deed = by.get_role_display(), act.replace("_", " ")
    return f"Your role, {role}, does not include this act: {deed}. Ask the administrator."
