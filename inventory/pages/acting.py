"""Decides how a page calls a service: once, with what it may refuse shown beside what was typed.

Who may act is decided by the service; a page asks beforehand only to spare people the typing.
"""

from collections.abc import Callable
from datetime import datetime
from functools import wraps
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec, Protocol, TypedDict, TypeVar, cast

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect, QueryDict
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.datastructures import MultiValueDict
from django.views.decorators.http import require_http_methods, require_safe

from inventory.models import Person
from inventory.pages.reading import as_they_read
from inventory.rules.refusal import Refusal
from inventory.rules.roles import Act, Role, may
from inventory.services.once import mark_sent

P = ParamSpec("P")
T = TypeVar("T")
View = Callable[Concatenate[HttpRequest, P], HttpResponse]
if TYPE_CHECKING:
    from django.core.files.uploadedfile import UploadedFile

    Files = MultiValueDict[str, UploadedFile[Any]]
else:  # Django's own class takes no type at run time
    Files = MultiValueDict

# What a page is asked with; everything else is answered 405.
SAFE = frozenset({"GET", "HEAD"})
TAKEN = ["GET", "HEAD", "POST"]
# The name of the buttons that only ask for the page again: read back, one more row.
AGAIN = "again"
_MORE = "more-"
# The name of the hidden field by which a form sent twice, as by a double click, acts once.
ONCE = "once"


class Deed(TypedDict):
    """Who acts, and when: what every service is told besides the facts."""

    by: Person
    at: datetime


class Asking(Protocol):
    """A form, or rows of forms."""

    def is_valid(self) -> bool:
        """Tell whether everything typed could be read."""

    def hush(self) -> None:
        """Say nothing about what is still missing."""


class Refusable(Asking, Protocol):
    """A form that can show a refusal."""

    def refuse(self, refusal: Refusal) -> None:
        """Show why the service said no."""


def signed_in(view: View[P]) -> View[P]:
    """Let every signed-in person read the page; it takes nothing in (POST is answered 405).

    A page that all may read and some may act on is `for_act` with `is_read_by_all`.
    """
    return login_required(as_they_read(require_safe(view)))


def signed_in_to_act(view: View[P]) -> View[P]:
    """Let every signed-in person act upon what is his own, such as his pass phrase."""
    return login_required(as_they_read(require_http_methods(TAKEN)(view)))


def for_act(act: Act, *, is_read_by_all: bool = False) -> Callable[[View[P]], View[P]]:
    """Let only those see the page whose role includes the act; others are told so (403).

    Args:
        is_read_by_all: every signed-in person may read it, only those of the act may send it.
    """

    def decorate(view: View[P]) -> View[P]:
        @wraps(view)
        def guarded(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
            is_reading = is_read_by_all and request.method in SAFE
            if not is_reading and not may(Role(person_of(request).role), act):
                raise PermissionDenied
            return view(request, *args, **kwargs)

        reading = as_they_read(cast("View[P]", guarded))
        return login_required(require_http_methods(TAKEN)(reading))

    return decorate


def person_of(request: HttpRequest) -> Person:
    """Return who is signed in; the page must be one for signed-in people."""
    if not isinstance(request.user, Person):
        raise PermissionDenied
    return request.user


def deed(request: HttpRequest) -> Deed:
    """Return who acts now: the one place where these pages read the clock for an act."""
    return {"by": person_of(request), "at": timezone.now()}


def typed(request: HttpRequest) -> tuple[QueryDict | None, Files | None]:
    """Return what was typed and which files came, both None before anything was."""
    if request.method != "POST":
        return None, None
    pressed = request.POST.get(AGAIN, "")
    if not pressed.startswith(_MORE):
        return request.POST, request.FILES
    data = request.POST.copy()
    key = f"{pressed.removeprefix(_MORE)}-TOTAL_FORMS"
    count = str(data.get(key, ""))
    if count.isdecimal():
        data[key] = str(int(count) + 1)
    return data, request.FILES


def perform(request: HttpRequest, do: Callable[[], T], form: Refusable, *rows: Asking) -> T | None:
    """Call the service if everything typed can be read; None if the page is to be shown (again).

    A refusal of the service is put on the form.
    """
    if request.method != "POST":
        return None
    if AGAIN in request.POST:
        for asked in (form, *rows):
            asked.hush()
        return None
    if not _all_valid(form, *rows):
        return None
    try:
        return _once(request.POST.get(ONCE, ""), do)
    except Refusal as refusal:
        form.refuse(refusal)
        return None


def done(request: HttpRequest, said: str, to: str, *args: str) -> HttpResponseRedirect:
    """Say what was recorded and go where it can be seen."""
    messages.success(request, said)
    return redirect(to, *args)


def found(thing: T | None) -> T:
    """Return the thing, or answer that there is none (404)."""
    if thing is None:
        raise Http404
    return thing


def initial_from(request: HttpRequest, *names: str) -> dict[str, Any]:
    """Return what the address suggests for these fields of an empty form."""
    return {name: request.GET[name] for name in names if request.GET.get(name)}


def _once(token: str, do: Callable[[], T]) -> T:
    """Act in one transaction with the token of the form, where it has one."""
    if not token:
        return do()
    with transaction.atomic():
        mark_sent(token=token, at=timezone.now())
        return do()


def _all_valid(*asked: Asking) -> bool:
    """Read every form, also after one that could not be read, so that all errors are shown."""
    results = [form.is_valid() for form in asked]
    return all(results)
