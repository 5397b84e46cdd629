"""Finds reports from site, and the trace of what a tag is on, as it is at this moment."""

import json
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any, Final

from django.db.models import Prefetch, QuerySet
from django.db.models.fields.json import KeyTransform

from certs.models import SitePhoto, SiteReport, Tag
from certs.queries.batches import in_batches
from certs.queries.trace import trace_code
from certs.queries.trace_find import CannotTrace, find_traceable
from inventory.rules.tag_code import fold, is_well_formed

STORIES: Final = 12
"""How many pieces on one paper are traced when its code is what was reported; own choice."""


def reports(*, is_open: bool | None = None) -> QuerySet[SiteReport]:
    """Return the reports for a list, the latest first; only open or only closed ones if asked.

    Of the trace attached to each, which may be long, only the codes it begins with are read.
    """
    found = _with_related().defer("trace").annotate(things_then=KeyTransform("things", "trace"))
    if is_open is not None:
        found = found.filter(closed_at__isnull=is_open)
    return found.order_by("-id")


def reports_at(tags: Collection[str], *, until: datetime | None = None) -> list[SiteReport]:
    """Return the reports at these tags, for a list, by their codes.

    Args:
        until: those that were received before a moment, each as it stood then; None: as now.
    """
    found: list[SiteReport] = []
    for some in in_batches(tags):
        found += reports().filter(tag__code__in=some)
    known = found if until is None else _as_they_stood(found, until=until)
    return sorted(known, key=lambda report: report.code)


def report_of(code: str) -> SiteReport | None:
    """Return the report of this code, whole, with its photographs."""
    photos = SitePhoto.objects.select_related("file").order_by("position")
    return _with_related().prefetch_related(Prefetch("photos", photos)).filter(code=code).first()


def report_at(tag: Tag, *, code: str) -> SiteReport | None:
    """Return the report of this code if it was made at this tag."""
    return SiteReport.objects.filter(tag=tag, code=code).first()


def photo_of(report: SiteReport, *, position: int) -> SitePhoto | None:
    """Return a photograph by its place, from 1."""
    return report.photos.select_related("file").filter(position=position).first()


def tag_on_site(text: str) -> Tag | None:
    """Return the tag of a code as it is scanned or typed; None for a wrong and an unknown one."""
    code = fold(text)
    if not is_well_formed(code):
        return None
    return Tag.objects.select_related("piece", "assembly", "certificate").filter(code=code).first()


def codes_behind(tag: Tag) -> list[str]:
    """Return the codes of what a tag leads to; the tag of a paper may lead to several pieces."""
    try:
        return [find_traceable(tag.code).thing.code]
    except CannotTrace as several:
        return list(several.choices)


def trace_at(tag: Tag) -> dict[str, Any]:
    """Tell the whole story of what a tag is on, as JSON.

    `things` are all the codes behind the tag, `stories` those of the first `STORIES` of them.
    """
    codes = codes_behind(tag)
    told = [trace_code(code) for code in codes[:STORIES]]
    # As the database will give it back: lists, never tuples.
    trace: dict[str, Any] = json.loads(json.dumps({"things": codes, "stories": told}))
    return trace


def stories_of(report: SiteReport) -> Sequence[Mapping[str, Any]]:
    """Return the stories that were attached to a report when it came in."""
    stories: list[Mapping[str, Any]] = report.trace.get("stories", [])
    return stories


def things_of(report: SiteReport) -> Sequence[str]:
    """Return the codes of what was reported, as the tag led to them then."""
    if "trace" in report.get_deferred_fields():
        return list(getattr(report, "things_then", None) or [])
    things: list[str] = report.trace.get("things", [])
    return things


def _as_they_stood(found: Iterable[SiteReport], *, until: datetime) -> Iterator[SiteReport]:
    """Yield those received before a moment, without what was done about them later.

    They are for reading only: what is left out of them must not be saved.
    """
    for report in found:
        if report.received_at >= until:
            continue
        if report.closed_at is not None and report.closed_at >= until:
            report.closed_at, report.closed_by, report.close_reason = None, None, ""
        if report.hold is not None and report.hold.placed_at >= until:
            report.hold = None
        yield report


def _with_related() -> QuerySet[SiteReport]:
    return SiteReport.objects.select_related(
        "tag__piece", "tag__assembly", "tag__certificate", "hold", "closed_by"
    )
