"""Decides how a page offers to undo what was just done, and what undoing it answers.

What cannot be undone is asked for beforehand instead. Whether it still can is the service's.
"""

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from inventory.pages.acting import deed, for_act, found
from inventory.queries.things import hold_of_code, piece_of_code
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act
from inventory.services.undo import undo_cut, undo_hold

# The field by which a button says to which page it leads back.
BACK = "back"


def tell_with_undo(request: HttpRequest, said: str, *, undo: str, code: str) -> None:
    """Say on the next page what was recorded, with a button that undoes it.

    Args:
        undo: the name of the address that undoes it; it takes the code, by POST.
    """
    # `page.html` makes a button of what begins with a stroke; no other message bears such a tag.
    messages.success(request, said, extra_tags=reverse(undo, args=[code]))


def done_with_undo(
    request: HttpRequest, said: str, *, undo: str, code: str, to: str
) -> HttpResponseRedirect:
    """Go where the thing with this code can be seen, say what was recorded, offer to undo it."""
    tell_with_undo(request, said, undo=undo, code=code)
    return redirect(to, code)


@require_POST
@for_act(Act.CUT_PIECE)
def undo_a_cut(request: HttpRequest, code: str) -> HttpResponse:
    """Take back one's own cut of just now."""
    cut = found(piece_of_code(code))
    said = f"The cut of {code} is undone; its metres are on reel {cut.reel.code} again."
    home = reverse("inventory:piece", args=[code])
    return _undone(request, lambda: undo_cut(cut=cut, **deed(request)), said=said, home=home)


@require_POST
@for_act(Act.RELEASE_HOLD)
def undo_a_hold(request: HttpRequest, code: str) -> HttpResponse:
    """Release one's own hold of just now."""
    hold = found(hold_of_code(code))
    said = f"Hold {code} is undone: it is released, and stays on record with its reason."
    home = reverse("inventory:hold", args=[code])
    return _undone(request, lambda: undo_hold(hold=hold, **deed(request)), said=said, home=home)


def _undone(
    request: HttpRequest, undo: Callable[[], object], *, said: str, home: str
) -> HttpResponse:
    try:
        undo()
    except Refusal as refusal:
        messages.error(request, refusal.message)
    else:
        messages.success(request, said)
    return redirect(_back(request) or home)


def _back(request: HttpRequest) -> str:
    """Give the page of this house that the button named; empty: none, or one of another's."""
    asked = request.POST.get(BACK, "")
    host = {request.get_host()}
    return asked if url_has_allowed_host_and_scheme(asked, host, request.is_secure()) else ""
