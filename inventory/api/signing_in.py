"""Gives a token to who has a name and a password; guessing is slowed down."""

from rest_framework.authtoken.views import ObtainAuthToken

from inventory.api.rate import Knocking


class TokenView(ObtainAuthToken):
    """POST a user name and a password, get a token for the header `Authorization: Token …`."""

    authentication_classes = ()
    throttle_classes = (Knocking,)
