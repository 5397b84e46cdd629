"""Decides how a person gets in: pass phrase, then the second step where it is asked for.

Between the two nobody is signed in: the session only remembers whose pass phrase was right, for
ten minutes. Whom the second step is asked of is decided by `inventory.services.second_step`.
"""

from datetime import datetime, timedelta
from typing import Final

from django.conf import settings
from django.contrib.auth import login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render, resolve_url
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods
from django_otp import login as keep_device
from django_otp.models import Device

from inventory.models import Person
from inventory.pages.acting import TAKEN
from inventory.pages.forms.signing_in import CodeForm, FirstCodeForm, SignInForm
from inventory.pages.rate import limited, too_many
from inventory.pages.second_step import enrolment_page, show_codes
from inventory.queries.people import person_of_name
from inventory.rules.refusal import Refusal
from inventory.services import second_step
from inventory.services.rate import wait_s
from inventory.services.security_log import note

POSTED: Final = frozenset({"POST"})
_WAITING: Final = "waiting_for_second_step"
_WAITS: Final = timedelta(minutes=10)
_BACKEND: Final = "inventory.queries.signed_in_person.SignedInPerson"


@limited("login", methods=POSTED)
@sensitive_post_parameters("password")
@never_cache
@require_http_methods(TAKEN)
def sign_in(request: HttpRequest) -> HttpResponse:
    """Ask for user name and pass phrase."""
    if request.user.is_authenticated:
        return redirect(_where_to(request))
    form = SignInForm(request, data=request.POST or None)
    if request.method == "POST":
        typed = str(request.POST.get("username", ""))
        wait = wait_s("login_name", typed.strip().casefold(), at=timezone.now())
        if wait:
            return too_many(wait)
        if form.is_valid():
            return _passed_first(request, form.get_user())
        note("sign_in_failed", person=person_of_name(typed))
    return render(
        request,
        "registration/login.html",
        {"form": form, "next": _asked_for(request), "is_open": not settings.MFA_REQUIRED},
    )


@limited("login", methods=POSTED)
@sensitive_post_parameters("code")
@never_cache
@require_http_methods(TAKEN)
def second_step_page(request: HttpRequest) -> HttpResponse:
    """Ask for a code of the app, or a recovery code."""
    person = _waiting(request, at=timezone.now())
    if person is None:
        return redirect("login")
    if not second_step.is_set_up(person):
        return redirect("inventory:set_up_second_step")
    form = CodeForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            device = second_step.verify(person, at=timezone.now(), **form.values)
        except Refusal as refusal:
            note("second_step_failed", person=person)
            form.refuse(refusal)
        else:
            to = str(request.session[_WAITING]["next"])
            _let_in(request, person, device)
            return redirect(to)
    return render(request, "registration/second_step.html", {"form": form})


@limited("login", methods=POSTED)
@sensitive_post_parameters("code")
@never_cache
@require_http_methods(TAKEN)
def set_up_second_step(request: HttpRequest) -> HttpResponse:
    """Have an app told the secret, and confirm it by a first code; then show recovery codes."""
    person = _waiting(request, at=timezone.now())
    if person is None:
        return redirect("login")
    if second_step.is_set_up(person):
        return redirect("inventory:second_step")
    form = FirstCodeForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            device, codes = second_step.confirm(person, at=timezone.now(), **form.values)
        except Refusal as refusal:
            form.refuse(refusal)
        else:
            to = str(request.session[_WAITING]["next"])
            _let_in(request, person, device)
            return show_codes(request, codes, to=to)
    return enrolment_page(request, person, form)


def _passed_first(request: HttpRequest, person: object) -> HttpResponse:
    """Let in whom no second step is asked of; remember the others and ask for it."""
    if not isinstance(person, Person):  # pragma: no cover -- there is no other kind of user
        return redirect("login")
    to = _where_to(request)
    if not second_step.is_asked_of(person):
        _let_in(request, person, None)
        return redirect(to)
    request.session.cycle_key()
    request.session[_WAITING] = {
        "person": person.pk,
        "proof": person.get_session_auth_hash(),
        "since": timezone.now().isoformat(),
        "next": to,
    }
    return redirect("inventory:second_step")


def _let_in(request: HttpRequest, person: Person, device: Device | None) -> None:
    request.session.pop(_WAITING, None)
    login(request, person, backend=_BACKEND)
    if device is not None:
        keep_device(request, device)
    note("signed_in", person=person, second_step="passed" if device else "not asked")


def _waiting(request: HttpRequest, *, at: datetime) -> Person | None:
    """Whose pass phrase was right a moment ago, in this very session."""
    kept = request.session.get(_WAITING)
    if not kept or at - datetime.fromisoformat(kept["since"]) > _WAITS:
        return None
    person = Person.objects.filter(pk=kept["person"], is_active=True).first()
    # A pass phrase that was changed meanwhile opens nothing any more.
    is_same = person is not None and person.get_session_auth_hash() == kept["proof"]
    return person if is_same else None


def _asked_for(request: HttpRequest) -> str:
    """Which page of ours is to be opened after signing in; none that leads elsewhere."""
    asked = request.POST.get("next", request.GET.get("next", ""))
    is_ours = url_has_allowed_host_and_scheme(
        asked, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return asked if is_ours else ""


def _where_to(request: HttpRequest) -> str:
    return _asked_for(request) or resolve_url(settings.LOGIN_REDIRECT_URL)
