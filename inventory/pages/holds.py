"""Holds: the list, one hold with what it reaches, placing one on anything, and releasing it."""

import re

from django.http import Http404, HttpRequest, HttpResponse

from inventory.models import Hold, Reel
from inventory.pages.acting import deed, done, for_act, found, perform, person_of, signed_in, typed
from inventory.pages.facts import Fact, told
from inventory.pages.forms.holds import HoldFilter, ReleaseForm, hold_form_for
from inventory.pages.holds_table import reach_of, state_of, table_of_holds
from inventory.pages.links import fact_of, href_of
from inventory.pages.reached_table import table_of_reached
from inventory.pages.reading import moment
from inventory.pages.rendering import show, show_list
from inventory.pages.sorting import Sorts
from inventory.pages.undo import done_with_undo
from inventory.queries import registers
from inventory.queries.hold_reach import reached_by
from inventory.queries.hold_subject import holdable_of_code, subject_of
from inventory.queries.things import hold_of_code
from inventory.rules.roles import Act, Role, may
from inventory.services.holds import place_hold, release_hold

_STANDING = {"": True, "released": False, "all": None}

_SORTS: Sorts = {
    "Hold": ("id",),
    "Placed": ("placed_at",),
}


@signed_in
def holds(request: HttpRequest) -> HttpResponse:
    """List the holds; those that stand unless asked otherwise."""
    filters = HoldFilter(request.GET)
    return show_list(
        request,
        "inventory/holds.html",
        rows=registers.holds(is_standing=_STANDING[filters.read("state") or ""]),
        table=table_of_holds,
        area="holds",
        noun="holds",
        sorts=_SORTS,
        filters=filters,
    )


@signed_in
def hold(request: HttpRequest, code: str) -> HttpResponse:
    """Show a hold and everything it reaches."""
    shown = found(hold_of_code(code))
    reached = reached_by(shown)
    return show(
        request,
        "inventory/hold.html",
        area="holds",
        hold=shown,
        state=state_of(shown),
        facts=_facts(shown),
        checks=_named(shown, "RC"),
        reports=_named(shown, "SR"),
        reached=table_of_reached(reached) if reached else None,
    )


@for_act(Act.PLACE_HOLD)
def place(request: HttpRequest, code: str) -> HttpResponse:
    """Ask what is in doubt about a thing."""
    held = holdable_of_code(code)
    if held is None:
        raise Http404
    form = hold_form_for(is_reel=isinstance(held, Reel), args=typed(request))
    placed = perform(
        request, lambda: place_hold(subject=held, **form.values, **deed(request)), form
    )
    if placed is not None:
        said = f"Hold {placed.code} is placed on {held.code} and on all that was made from it."
        if not may(Role(person_of(request).role), Act.RELEASE_HOLD):
            return done(request, said, "inventory:hold", placed.code)
        return done_with_undo(
            request, said, undo="inventory:undo_hold", code=placed.code, to="inventory:hold"
        )
    return show(
        request,
        "inventory/place_hold.html",
        area="holds",
        subject=held,
        form=form,
        submit="Place the hold",
        cancel=href_of(held),
    )


@for_act(Act.RELEASE_HOLD)
def release(request: HttpRequest, code: str) -> HttpResponse:
    """Ask how the doubt was settled."""
    standing = found(hold_of_code(code))
    form = ReleaseForm(*typed(request))
    released = perform(
        request, lambda: release_hold(hold=standing, **form.values, **deed(request)), form
    )
    if released is not None:
        return done(request, f"Hold {code} is released.", "inventory:hold", code)
    return show(
        request,
        "inventory/release_hold.html",
        area="holds",
        hold=standing,
        form=form,
        submit="Release the hold",
        cancel=href_of(standing),
    )


def _named(hold: Hold, letters: str) -> list[str]:
    """Find the codes of these letters that the words of a hold name, each once."""
    words = f"{hold.reason} {hold.release_reason}"
    return list(dict.fromkeys(re.findall(rf"\b{letters}-[0-9]{{5,9}}\b", words)))


def _facts(hold: Hold) -> list[Fact]:
    return told(
        fact_of("On", subject_of(hold), note=reach_of(hold)),
        Fact("What is in doubt", hold.reason),
        Fact("Placed", moment(hold.placed_at), note=f"by {hold.placed_by}"),
        Fact("How it was settled", hold.release_reason),
        Fact("Released", moment(hold.released_at), note=f"by {hold.released_by}"),
    )
