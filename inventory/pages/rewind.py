"""Winding a stretch of a reel on to another."""

from django.http import HttpRequest, HttpResponse

from inventory.pages.acting import deed, done, for_act, found, perform, typed
from inventory.pages.forms.reels import RewindForm
from inventory.pages.links import href_of
from inventory.pages.reel_offer import table_of_stretches
from inventory.pages.rendering import show
from inventory.queries.stock import clear_on_reel
from inventory.queries.things import reel_of_code
from inventory.rules.roles import Act
from inventory.services.rewind import rewind_reel


@for_act(Act.REWIND_REEL)
def rewind(request: HttpRequest, code: str) -> HttpResponse:
    """Ask for a stretch to be wound on to a reel of its own."""
    reel = found(reel_of_code(code))
    form = RewindForm(*typed(request))
    wound = perform(request, lambda: rewind_reel(reel=reel, **form.values, **deed(request)), form)
    if wound is not None:
        said = f"{wound.code} is wound from {reel.code}; its metre 0 is its own free end."
        return done(request, said, "inventory:reel", wound.code)
    return show(
        request,
        "inventory/rewind.html",
        area="reels",
        reel=reel,
        form=form,
        clear=table_of_stretches(clear_on_reel(reel)),
        submit="Record the rewind",
        cancel=href_of(reel),
    )
