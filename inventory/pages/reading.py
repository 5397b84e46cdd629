"""Decides how house pages write figures for the one who reads them: his units, his time zone.

A figure is metric, with US customary beside it where he prefers so; an instant is in his zone and
says which. Days of record stay days of the house. Django's own time zone is never changed, so
services compute the same whoever asks; papers, tag pages and the API write with
`inventory.documents.quantities` and know nothing of this.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from decimal import Decimal
from functools import wraps
from typing import Concatenate, ParamSpec, cast
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django import template
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from inventory.documents import quantities
from inventory.models import Person, Preference
from inventory.pages.figure import Figure
from inventory.rules import us_customary
from inventory.rules.units import format_kg, format_kn, format_metres

P = ParamSpec("P")
View = Callable[Concatenate[HttpRequest, P], HttpResponse]
register = template.Library()


@dataclass(frozen=True, slots=True)
class Reading:
    """How somebody reads; no zone is the zone of the house."""

    is_us_beside: bool = False
    zone: tzinfo | None = None


_HOUSE = Reading()
_READING: ContextVar[Reading] = ContextVar("reading", default=_HOUSE)


def reading_of(person: object) -> Reading:
    """Return how a person prefers to read; a stranger reads as the house does."""
    kept = getattr(person, "preference", None) if isinstance(person, Person) else None
    if kept is None:
        return _HOUSE
    return Reading(kept.units == Preference.Units.US, zone_named(kept.time_zone))


def zone_named(name: str) -> tzinfo | None:
    """Return the zone of a name of the IANA database; None for none, or if it is known no more."""
    try:
        return ZoneInfo(name) if name else None
    except (ZoneInfoNotFoundError, ValueError):
        return None


def present_reading() -> Reading:
    """Return how the one reads for whom a page is being written."""
    return _READING.get()


@contextmanager
def read_as(reading: Reading) -> Iterator[None]:
    """Write figures so for as long as this lasts."""
    token = _READING.set(reading)
    try:
        yield
    finally:
        _READING.reset(token)


def as_they_read(view: View[P]) -> View[P]:
    """Write the figures of a page for the person who is signed in."""

    @wraps(view)
    def written(request: HttpRequest, *args: P.args, **kwargs: P.kwargs) -> HttpResponse:
        with read_as(reading_of(request.user)):
            return view(request, *args, **kwargs)

    return cast("View[P]", written)


def present_zone() -> tzinfo:
    """Return the zone in which instants are told and typed now."""
    return _READING.get().zone or timezone.get_default_timezone()


@register.filter
def shown_metres(mm: int | None) -> str:
    """Write whole millimetres as metres, with feet beside them; nothing stays nothing."""
    if mm is None:
        return ""
    words = _beside(format_metres(int(mm)), us_customary.feet, int(mm))
    return Figure(words, value=Decimal(int(mm)).scaleb(-3), unit="m")


@register.filter
def shown_force(n: int | None) -> str:
    """Write whole newtons as kilonewtons, with pounds-force beside; nothing stays nothing."""
    if n is None:
        return ""
    words = _beside(format_kn(int(n)), us_customary.pounds_force, int(n))
    return Figure(words, value=Decimal(int(n)).scaleb(-3), unit="kN")


def shown_mass(g: int | None) -> str:
    """Write whole grams as kilograms, with pounds beside; nothing stays nothing."""
    if g is None:
        return ""
    words = _beside(format_kg(int(g)), us_customary.pounds, int(g))
    return Figure(words, value=Decimal(int(g)).scaleb(-3), unit="kg")


def shown_diameter(nm: int) -> str:
    """Write whole nanometres as millimetres, with inches beside."""
    mm = Decimal(nm).scaleb(-6).normalize()
    return Figure(_beside(f"{mm:f} mm", us_customary.inches, nm), value=mm, unit="mm")


@register.filter("shown_moment")
def moment(value: datetime | str | None) -> str:
    """Write an instant in the reader's zone and name the zone: 2026-11-25 14:05 CET."""
    if isinstance(value, str):
        value = datetime.fromisoformat(value) if value else None
    if value is None:
        return ""
    local = timezone.localtime(value, present_zone())
    return Figure(f"{local:%Y-%m-%d %H:%M %Z}", value=local, unit=str(present_zone()))


def day(value: date | datetime | str | None) -> str:
    """Write a day of the house as 2026-11-25 (ISO 8601)."""
    words = quantities.day(value)
    return Figure(words, value=date.fromisoformat(words)) if words else ""


def _beside(metric: str, tell: Callable[[int], str], value: int) -> str:
    return f"{metric} ({tell(value)})" if _READING.get().is_us_beside else metric
