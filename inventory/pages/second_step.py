"""Decides how the second step is shown to who sets it up: a QR, a secret to type, the codes."""

from collections.abc import Sequence

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from inventory.documents.qr import draw_qr
from inventory.models import Person
from inventory.pages.facts import Fact
from inventory.pages.forms.asking import Ask
from inventory.pages.rendering import show
from inventory.rules.roles import Role
from inventory.services import second_step

_GROUP = 4


def enrolment_page(request: HttpRequest, person: Person, form: Ask) -> HttpResponse:
    """Show the secret as a QR and as text, and ask for the first code."""
    enrolment = second_step.enrol(person)
    secret = enrolment.secret
    context = {
        "form": form,
        "qr": draw_qr(enrolment.address, title="The secret, for an authenticator app").drawing,
        "secret": " ".join(secret[at : at + _GROUP] for at in range(0, len(secret), _GROUP)),
        "person": person,
    }
    return _closed(render(request, "registration/set_up_second_step.html", context))


def show_codes(request: HttpRequest, codes: Sequence[str], *, to: str) -> HttpResponse:
    """Show the recovery codes, this once."""
    page = show(request, "registration/recovery_codes.html", area="account", codes=codes, to=to)
    return _closed(page)


def second_step_facts(person: Person) -> list[Fact]:
    """Say whether a person has set it up, and how many recovery codes are left."""
    if second_step.is_set_up(person):
        left = second_step.recovery_codes_left(person)
        return [
            Fact("Second step", "set up", shape="good"),
            Fact("Recovery codes left", str(left), note="" if left else "make new ones"),
        ]
    if second_step.is_needed_by(Role(person.role)):
        return [Fact("Second step", "not set up", shape="wait", note="asked for at the sign-in")]
    return [Fact("Second step", "not set up", note="not needed for this role")]


def _closed(answer: HttpResponse) -> HttpResponse:
    answer["Cache-Control"] = "no-store"
    return answer
