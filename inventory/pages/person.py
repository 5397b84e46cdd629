"""One person's account, for administrators: role, pass phrase, second step, closing it."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_safe

from inventory.models import Person
from inventory.pages.acting import Deed, deed, done, for_act, found, perform, typed
from inventory.pages.facts import Fact, told
from inventory.pages.forms.asking import Ask
from inventory.pages.forms.people import NothingForm, RoleForm
from inventory.pages.forms.signing_in import NewPhraseForm
from inventory.pages.reading import day
from inventory.pages.rendering import show
from inventory.pages.second_step import second_step_facts
from inventory.queries.people import person_of_name
from inventory.rules.roles import Act
from inventory.services import second_step
from inventory.services.accounts import change_role as give_role
from inventory.services.accounts import close_account, open_account
from inventory.services.accounts import set_pass_phrase as give_pass_phrase


@require_safe
@for_act(Act.MANAGE_PEOPLE)
def person(request: HttpRequest, username: str) -> HttpResponse:
    """Show a person's account."""
    shown = found(person_of_name(username))
    return show(
        request,
        "inventory/person.html",
        area="people",
        person=shown,
        facts=_facts(shown),
        is_set_up=second_step.is_set_up(shown),
    )


@for_act(Act.MANAGE_PEOPLE)
def change_role(request: HttpRequest, username: str) -> HttpResponse:
    """Ask for another role."""
    return _asked(
        request,
        username,
        form=RoleForm,
        do=lambda who, values, deed: give_role(person=who, **values, **deed),
        heading="Change the role",
        lead="Wherever this person is signed in, he is no more, and signs in anew.",
        submit="Change the role",
        said="has another role.",
    )


@sensitive_post_parameters("password")
@for_act(Act.MANAGE_PEOPLE)
def set_pass_phrase(request: HttpRequest, username: str) -> HttpResponse:
    """Ask for a new pass phrase."""
    return _asked(
        request,
        username,
        form=NewPhraseForm,
        do=lambda who, values, deed: give_pass_phrase(person=who, **values, **deed),
        heading="Set a new pass phrase",
        lead="Tell it in person, and have it changed at once. All sessions of this person end.",
        submit="Set this pass phrase",
        said="has a new pass phrase.",
    )


@for_act(Act.MANAGE_PEOPLE)
def reset_second_step(request: HttpRequest, username: str) -> HttpResponse:
    """Ask whether the second step is to be taken away."""
    return _asked(
        request,
        username,
        form=NothingForm,
        do=lambda who, _values, deed: second_step.reset(person=who, **deed),
        heading="Take the second step away",
        lead="For someone who lost both app and recovery codes. See whom you have before you: with"
        " the pass phrase alone this person then sets up another app. All his sessions end.",
        submit="Take it away",
        said="has no second step any more.",
    )


@for_act(Act.MANAGE_PEOPLE)
def close(request: HttpRequest, username: str) -> HttpResponse:
    """Ask whether the account is to be closed."""
    return _asked(
        request,
        username,
        form=NothingForm,
        do=lambda who, _values, deed: close_account(person=who, **deed),
        heading="Close the account",
        lead="This person signs in no more, from now on. What he did stays on record.",
        submit="Close this account",
        said="signs in no more.",
    )


@for_act(Act.MANAGE_PEOPLE)
def reopen(request: HttpRequest, username: str) -> HttpResponse:
    """Ask whether the account is to be opened again."""
    return _asked(
        request,
        username,
        form=NothingForm,
        do=lambda who, _values, deed: open_account(person=who, **deed),
        heading="Open the account again",
        lead="This person signs in again, with the role and the pass phrase that he had.",
        submit="Open this account",
        said="may sign in again.",
    )


def _asked(  # noqa: PLR0913 -- a question is told all its words, each by name
    request: HttpRequest,
    username: str,
    *,
    form: type[Ask],
    do: Callable[[Person, dict[str, Any], Deed], object],
    heading: str,
    lead: str,
    submit: str,
    said: str,
) -> HttpResponse:
    who = found(person_of_name(username))
    asked = form(*typed(request))
    ran = perform(request, lambda: (do(who, asked.values, deed(request)),), asked)
    if ran is not None:
        return done(request, f"{who.username} {said}", "inventory:person", who.username)
    return show(
        request,
        "inventory/change_person.html",
        area="people",
        person=who,
        form=asked,
        heading=heading,
        lead=lead,
        submit=submit,
        cancel=reverse("inventory:person", args=[who.username]),
    )


def _facts(shown: Person) -> list[Fact]:
    return told(
        Fact("User name", shown.username),
        Fact("Name", shown.get_full_name()),
        Fact("Role", shown.get_role_display()),
        Fact("Account", "may sign in", shape="good")
        if shown.is_active
        else Fact("Account", "closed", shape="past"),
        Fact("Registered", day(shown.date_joined)),
        Fact("Last signed in", day(shown.last_login) if shown.last_login else "never"),
        *second_step_facts(shown),
    )
