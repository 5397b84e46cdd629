"""Finds what is worth looking at first in the demonstration."""

from collections.abc import Iterator
from dataclasses import dataclass

from django.conf import settings
from django.urls import reverse

from certs.models import Certificate, Tag
from certs.queries.tag_status import Standing, tag_answer
from inventory.models import Heat


@dataclass(frozen=True, slots=True)
class Stop:
    """An address, and what is to be seen there."""

    what: str
    address: str


def stops() -> Iterator[Stop]:
    """Yield the places to look at, the public ones first; what is there no more is left out."""
    for standing, what in (
        (Standing.GOOD, "the tag of a sling that is good"),
        (Standing.DO_NOT_USE, "the tag of one that is not"),
    ):
        code = _tag(standing)
        if code:
            yield Stop(what, _at("certs:tag", code))
    yield Stop("today's work", _at("certs:today"))
    number = _certificate()
    if number:
        yield Stop("a certificate", _at("certs:certificate", number))
        yield Stop("its story", f"{_at('certs:trace')}?code={number}")
    heat = Heat.objects.order_by("id").first()
    if heat is not None:
        yield Stop("what a heat reaches", f"{_at('certs:recall')}?code={heat.code}")


def _at(name: str, *args: str) -> str:
    return f"{settings.PUBLIC_ORIGIN}{reverse(name, args=args)}"


def _tag(standing: Standing) -> str:
    """Give the code of the first assembly's tag that answers so."""
    for tag in Tag.objects.filter(assembly__isnull=False, revoked_at=None).order_by("id"):
        answer = tag_answer(tag.code)
        if answer is not None and answer.standing == standing:
            return tag.code
    return ""


def _certificate() -> str:
    issued = Certificate.objects.filter(
        state=Certificate.State.ISSUED, kind=Certificate.Kind.ASSEMBLY
    )
    first = issued.order_by("id").first()
    return str(first.number) if first else ""
