"""One's own account: pass phrase, second step, recovery codes."""

from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_POST
from django_otp import login as keep_device

from inventory.pages.acting import deed, done, perform, person_of, signed_in_to_act, typed
from inventory.pages.facts import Fact, told
from inventory.pages.forms.signing_in import FirstCodeForm, OwnPhraseForm
from inventory.pages.rate import limited
from inventory.pages.rendering import show
from inventory.pages.second_step import enrolment_page, second_step_facts, show_codes
from inventory.pages.signing_in import POSTED
from inventory.rules.refusal import Refusal
from inventory.services import second_step
from inventory.services.accounts import change_own_pass_phrase


@limited("login", methods=POSTED)
@sensitive_post_parameters("former", "password")
@signed_in_to_act
def account(request: HttpRequest) -> HttpResponse:
    """Show what the reader signs in with, and change his pass phrase."""
    person = person_of(request)
    form = OwnPhraseForm(*typed(request))
    changed = perform(
        request,
        lambda: change_own_pass_phrase(
            **form.values, session_key=request.session.session_key, **deed(request)
        ),
        form,
    )
    if changed is not None:
        update_session_auth_hash(request, changed)
        said = "Your pass phrase is changed. Wherever else you were signed in, you are no more."
        return done(request, said, "inventory:account")
    return show(
        request,
        "inventory/account.html",
        area="account",
        form=form,
        facts=told(
            Fact("User name", person.username),
            Fact("Name", person.get_full_name()),
            Fact("Role", person.get_role_display()),
            *second_step_facts(person),
        ),
        is_set_up=second_step.is_set_up(person),
        submit="Change the pass phrase",
        cancel="",
    )


@limited("login", methods=POSTED)
@sensitive_post_parameters("code")
@signed_in_to_act
def set_up_own(request: HttpRequest) -> HttpResponse:
    """Set up the second step for whom none is asked of; his other sessions stay as they are."""
    person = person_of(request)
    if second_step.is_set_up(person):
        return done(request, "Your second step is set up already.", "inventory:account")
    form = FirstCodeForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            device, codes = second_step.confirm(person, at=timezone.now(), **form.values)
        except Refusal as refusal:
            form.refuse(refusal)
        else:
            keep_device(request, device)
            return show_codes(request, codes, to=reverse("inventory:account"))
    return enrolment_page(request, person, form)


@require_POST
@signed_in_to_act
def renew_codes(request: HttpRequest) -> HttpResponse:
    """Give ten new recovery codes; the former ones count no more."""
    try:
        codes = second_step.renew_codes(person_of(request), at=timezone.now())
    except Refusal as refusal:
        return done(request, refusal.message, "inventory:account")
    return show_codes(request, codes, to=reverse("inventory:account"))
