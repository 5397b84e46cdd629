"""What every list of claims in the API has in common: acts are those upon the claims."""

from typing import TypeVar

from django.db.models import Model
from rest_framework.permissions import IsAuthenticated

from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.api.acting import MayAct
from inventory.api.register import Register, Signed
from inventory.models import Person

ModelT = TypeVar("ModelT", bound=Model)


class MayClaim(MayAct):
    """Everyone signed in may read; to act, the person's role must include the endpoint's act."""

    def require(self, *, by: Person, act: str) -> None:
        """Refuse unless the person's role allows the act."""
        require(by=by, act=ClaimAct(act))


class SignedForClaims(Signed[ModelT]):
    """Endpoints upon the claims."""

    permission_classes = (IsAuthenticated, MayClaim)


class ClaimRegister(Register[ModelT]):
    """A list of claims and each claim by its code."""

    permission_classes = (IsAuthenticated, MayClaim)
