"""Decides which tokens count: whose owner passed the second step that his role needs."""

from rest_framework.authentication import TokenAuthentication
from rest_framework.authtoken.models import Token
from rest_framework.exceptions import AuthenticationFailed

from inventory.models import Person
from inventory.rules.roles import Role
from inventory.services import second_step


class VerifiedToken(TokenAuthentication):
    """Takes a token, unless its owner needs a second step and had none when it was given."""

    def authenticate_credentials(self, key: str) -> tuple[Person, Token]:
        """Return whose token it is. Raises AuthenticationFailed (401)."""
        person, token = super().authenticate_credentials(key)
        if second_step.is_needed_by(Role(person.role)) and not second_step.is_set_up(
            person, by=token.created
        ):
            message = "This token is from before your second step was set up; get another."
            raise AuthenticationFailed(message)
        return person, token
