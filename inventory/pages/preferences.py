"""One's own way of reading: units and time zone of the pages."""

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone

from inventory.pages.acting import done, perform, person_of, signed_in_to_act, typed
from inventory.pages.facts import Fact
from inventory.pages.forms.preferences import ReadingForm
from inventory.pages.reading import (
    moment,
    reading_of,
    shown_diameter,
    shown_force,
    shown_mass,
    shown_metres,
)
from inventory.pages.rendering import show
from inventory.services.prefer import prefer


@signed_in_to_act
def reading(request: HttpRequest) -> HttpResponse:
    """Show how figures are written for the reader, and let him choose."""
    person = person_of(request)
    kept = getattr(person, "preference", None)
    start = {"units": kept.units, "time_zone": kept.time_zone} if kept else {"units": "metric"}
    form = ReadingForm(*typed(request), initial=start)
    if perform(request, lambda: prefer(by=person, **form.values), form) is not None:
        return done(request, "Pages are written so from now on.", "inventory:reading")
    return show(
        request,
        "inventory/reading.html",
        area="account",
        form=form,
        facts=_facts(),
        is_of_the_house=reading_of(person).zone is None,
        submit="Write pages so",
        cancel=reverse("inventory:account"),
    )


def _facts() -> list[Fact]:
    """Tell examples as they are written now."""
    return [
        Fact("A length", shown_metres(12_000)),
        Fact("A force", shown_force(84_600)),
        Fact("A mass", shown_mass(104_500)),
        Fact("A rope", shown_diameter(9_525_000)),
        Fact("This moment", moment(timezone.now())),
    ]
