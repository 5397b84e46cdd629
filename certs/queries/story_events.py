"""Tells what happened to everything in a story, in order, and who did it: from the journal.

What one person did of one kind on one day is one event. A fixed number of queries.
"""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.utils import timezone

from certs.models import RecallNotice, SiteReport
from certs.queries import bundle_rows
from certs.queries.batches import in_batches
from certs.queries.story_holds import holds_of
from certs.queries.trace_shapes import Story
from inventory.models import JournalEntry, MillDocument, Person


@dataclass(frozen=True, slots=True)
class Event:
    """What one person did on one day: the act and its deed, on which codes, the first entry."""

    act: str
    deed: str
    by: Person
    first: datetime
    last: datetime
    codes: tuple[str, ...]
    entry: int

    @property
    def day(self) -> date:
        """The day, in the time zone of the house."""
        return timezone.localdate(self.first)


def events_of(story: Story, *, until: datetime | None, reads_reports: bool) -> list[Event]:
    """Return what happened, the first first.

    Args:
        until: the end of a past day; None: all that is on record.
        reads_reports: whether reports from site may be told.
    """
    holds = [one for one in holds_of(story) if one.reaches != "machine"]
    others = {check.code for check in bundle_rows.checks_of(story, until=until)}
    others |= {paper["code"] for rope in story["back"] for paper in rope["mill_documents"]}
    others |= _lot_documents(story)
    others |= _letters([one.hold.code for one in holds])
    others |= _reports(story) if reads_reports else set()
    subjects = {*bundle_rows.subjects_of(story, holds=holds, others=others)} - {""}
    # A testing machine has a story of its own, which is not that of what was tested.
    subjects = {code for code in subjects if not code.startswith("T-")}
    return _grouped(bundle_rows.entries_about(subjects, until=until))


def days_of(events: Iterable[Event], *, before: date) -> list[date]:
    """Return the days on which something changed, before a day, the last one first."""
    return sorted({event.day for event in events if event.day < before}, reverse=True)


def deed_of(entry: JournalEntry) -> str:
    """Return which of several things an act was, "" where its entry does not say."""
    return str(json.loads(entry.canonical)["detail"].get("deed", ""))


def _grouped(entries: Sequence[JournalEntry]) -> list[Event]:
    groups: dict[tuple[date, str, str, int], list[JournalEntry]] = {}
    for entry in entries:
        key = (timezone.localdate(entry.at), entry.act, deed_of(entry), entry.by_id)
        groups.setdefault(key, []).append(entry)
    return [
        Event(
            act=act,
            deed=deed,
            by=found[0].by,
            first=found[0].at,
            last=found[-1].at,
            codes=tuple(dict.fromkeys(entry.subject for entry in found)),
            entry=found[0].number,
        )
        for (_, act, deed, _), found in groups.items()
    ]


def _lot_documents(story: Story) -> set[str]:
    lots = [lot["document"] for lot in (*story["fitting_lots"], *story["made_lots"])]
    reels = bundle_rows.reels_in(story)
    found: set[str] = set(lots)
    for some in in_batches(reels):
        rows = MillDocument.objects.filter(reels__code__in=some)
        found.update(rows.values_list("code", flat=True))
    return found


def _letters(holds: Sequence[str]) -> set[str]:
    found: set[str] = set()
    for some in in_batches(holds):
        rows = RecallNotice.objects.filter(hold__code__in=some)
        found.update(rows.values_list("code", flat=True))
    return found


def _reports(story: Story) -> set[str]:
    found: set[str] = set()
    for some in in_batches({tag["code"] for tag in story["tags"]}):
        rows = SiteReport.objects.filter(tag__code__in=some)
        found.update(rows.values_list("code", flat=True))
    return found
