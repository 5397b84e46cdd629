"""Decides how what happened is told on a story page: day by day, with who did it."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.urls import reverse
from django.utils import timezone

from certs.pages.addresses import page_of, story_of
from certs.queries.row_facts import person_told
from certs.queries.story_events import Event
from certs.rules.act_words import told_act
from inventory.pages.table import Cell, Line, Table, build_table

SHOWN = 8
"""As many codes of one event are named; the entry in the journal leads to the others."""

_STOPS = frozenset({"place_hold", "withdraw_certificate", "revoke_tag", "settle_report hold"})


@dataclass(frozen=True, slots=True)
class Happened:
    """One event: what was done, on which things, by whom; `stops` where it says: do not use."""

    at: datetime
    clock: str
    words: str
    things: tuple[Cell, ...]
    more: int
    by: str
    href: str
    stops: bool


@dataclass(frozen=True, slots=True)
class Day:
    """A day with what happened on it; `as_known` is the address of the story as of its end."""

    on: date
    happened: tuple[Happened, ...]
    as_known: str


def days_told(events: Iterable[Event], *, code: str, today: date) -> list[Day]:
    """Tell the events by day, in their order; a day that has not ended has no story of its own."""
    days: dict[date, list[Happened]] = {}
    for event in events:
        days.setdefault(event.day, []).append(_happened(event))
    return [
        Day(on, tuple(found), f"{story_of(code)}&on={on.isoformat()}" if on < today else "")
        for on, found in days.items()
    ]


def people_told(events: Sequence[Event]) -> Table:
    """Tell who acted, in which role, and how often each did what."""
    deeds: dict[int, Counter[str]] = {}
    people = {event.by.pk: event.by for event in events}
    for event in events:
        deeds.setdefault(event.by.pk, Counter())[told_act(event.act, event.deed)] += len(
            event.codes
        )
    return build_table(
        columns=("Who", "Role now", "What they did"),
        lines=(
            Line((str(people[pk]), people[pk].get_role_display(), _deeds(deeds[pk])))
            for pk in people
        ),
        folds=True,
    )


def _deeds(found: Counter[str]) -> str:
    return "; ".join(f"{words} ({count})" if count > 1 else words for words, count in found.items())


def _happened(event: Event) -> Happened:
    named = f"{event.act} {event.deed}" if event.deed else event.act
    return Happened(
        at=event.first,
        clock=_clock(event),
        words=told_act(event.act, event.deed).capitalize(),
        things=tuple(Cell(code, href=page_of(code)) for code in event.codes[:SHOWN]),
        more=max(len(event.codes) - SHOWN, 0),
        by=person_told(event.by, with_names=True),
        href=reverse("certs:journal_entry", args=[event.entry]),
        stops=named in _STOPS,
    )


def _clock(event: Event) -> str:
    first, last = (timezone.localtime(at).strftime("%H:%M") for at in (event.first, event.last))
    return first if first == last else f"{first} to {last}"
