"""Gives a token to who has a name and a password; guessing is slowed down."""

from rest_framework.authtoken.views import ObtainAuthToken
from rest_framework.request import Request
from rest_framework.throttling import SimpleRateThrottle
from rest_framework.views import APIView


class Knocking(SimpleRateThrottle):
    """Ten tries a minute from one address, whoever they claim to be."""

    scope = "token"
    rate = "10/min"

    def get_cache_key(self, request: Request, view: APIView) -> str:
        """Count by address."""
        return self.cache_format % {"scope": self.scope, "ident": self.get_ident(request)}


class TokenView(ObtainAuthToken):
    """POST a user name and a password, get a token for the header `Authorization: Token …`."""

    authentication_classes = ()
    throttle_classes = (Knocking,)
