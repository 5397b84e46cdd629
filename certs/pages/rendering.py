"""Decides what every page of claims is told: what `inventory.pages.rendering` says, and the claims.

`allowed` has the values of all acts that the reader may do, upon things and upon claims.
"""

from django.http import HttpRequest, HttpResponse

from certs.pages.acting import claims_of
from inventory.pages import rendering
from inventory.pages.acting import person_of
from inventory.rules.roles import Act, Role, may


def allowed_acts(request: HttpRequest) -> set[str]:
    """Give the values of the acts that the reader may do."""
    role = Role(person_of(request).role)
    things = {act.value for act in Act if may(role, act)}
    return things | claims_of(role)


def show(request: HttpRequest, template: str, *, area: str, **context: object) -> HttpResponse:
    """Render a page."""
    return rendering.show(
        request, template, area=area, **{"allowed": allowed_acts(request), **context}
    )
