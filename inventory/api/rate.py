"""Decides what the API answers to who asks too often (429, with Retry-After).

The counts are those of the pages; how much is allowed stands in the settings.
"""

from typing import TYPE_CHECKING, ClassVar

from django.utils import timezone
from rest_framework.request import Request
from rest_framework.throttling import BaseThrottle

from inventory.models import Person
from inventory.services.rate import client_address, wait_s

if TYPE_CHECKING:  # the views of the framework import this module while they are imported
    from rest_framework.views import APIView


class Limited(BaseThrottle):
    """Counts a person by name and a stranger by address; a view names the limit by a subclass."""

    limit: ClassVar[str] = "api"

    def allow_request(self, request: Request, view: "APIView") -> bool:
        """Count the request and tell whether it goes on."""
        self._wait_s = wait_s(self.limit, self.who(request), at=timezone.now())
        return not self._wait_s

    def wait(self) -> float:
        """Give the seconds until the next request is answered."""
        return float(self._wait_s)

    def who(self, request: Request) -> str:
        """Tell whom to count by."""
        if isinstance(request.user, Person):
            return f"person-{request.user.pk}"
        return client_address(request.META)


class ByAddress(Limited):
    """Counts by address, whoever is signed in: what strangers may ask for."""

    def who(self, request: Request) -> str:
        """Tell whom to count by."""
        return client_address(request.META)


class Scanning(ByAddress):
    """Enough for a crew that scans a load, too little to try codes."""

    limit = "tag"


class Checking(ByAddress):
    """Checks of a paper: reading a PDF costs more than asking for a page."""

    limit = "check"


class Reporting(ByAddress):
    """Reports from site, which are kept."""

    limit = "report"


class Knocking(ByAddress):
    """Tries of a pass phrase from one address, whoever they claim to be."""

    limit = "login"
