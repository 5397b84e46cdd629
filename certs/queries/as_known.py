"""Tells a story as it was known at the end of a past day: what was recorded later is left out.

A hold released since stands again, a cut or a test reversed since counts again, a paper ended
since is in force again. Drafts are no record, so that none is told. What people and firms are
called, and where a thing is used, is told as it is held now.
"""

from datetime import UTC, date, datetime, time, timedelta

from django.utils import timezone

from certs.queries import known_rows
from certs.queries.known_moments import Moments, moments_of
from certs.queries.story_holds import hold_told, holds_of
from certs.queries.trace import story_of, trace_code
from certs.queries.trace_downstream import Asking, of_stretch
from certs.queries.trace_find import find_traceable
from certs.queries.trace_shapes import Story
from inventory.rules.refusal import Refusal


class NotYet(Refusal):
    """Of that day nothing can be told: it has not ended, or nothing was recorded by then."""


def end_of(day: date) -> datetime:
    """Return the first moment after a day, in the time zone of the house."""
    midnight = timezone.make_aware(datetime.combine(day + timedelta(days=1), time.min))
    return midnight.astimezone(UTC)


def check_past(day: date, *, today: date) -> None:
    """Refuse a day that has not ended: nobody knows what is recorded on it.

    Raises:
        NotYet: today or later.
    """
    if day >= today:
        message = (
            f"{day.isoformat()} has not ended. Give a past day, or none for what is known now."
        )
        raise NotYet(message, field="on")


def trace_on(
    code: str,
    *,
    on: date | None,
    today: date,
    at_mm: int | None = None,
    from_mm: int | None = None,
    to_mm: int | None = None,
) -> Story:
    """Tell the story of a code as known on a past day, or as it is known now without one.

    Raises:
        NotYet: the day has not ended, or the thing was not on record by then.
        Refusal: as `trace_code`.
    """
    if on is None:
        return trace_code(code, at_mm=at_mm, from_mm=from_mm, to_mm=to_mm)
    check_past(on, today=today)
    return trace_as_known(code, on=on, at_mm=at_mm, from_mm=from_mm, to_mm=to_mm)


def trace_as_known(
    code: str,
    *,
    on: date,
    at_mm: int | None = None,
    from_mm: int | None = None,
    to_mm: int | None = None,
) -> Story:
    """Tell the story of a code as it was known when the day `on` ended.

    The arguments besides are those of `trace_code`, and so are the refusals.

    Raises:
        NotYet: the thing was not on record by then.
    """
    found = find_traceable(code)
    stretch = of_stretch(found.thing, from_mm=from_mm, to_mm=to_mm)
    asking = Asking(
        thing=found.thing,
        asked_as=found.asked_as,
        from_mm=stretch.from_mm if stretch else None,
        to_mm=stretch.to_mm if stretch else None,
        as_ever=True,
    )
    story = story_of(asking, at_mm=at_mm)
    known = moments_of(story, until=end_of(on))
    if not known.has(found.thing.code):
        message = f"{found.thing.code} was not on record when {on.isoformat()} ended."
        raise NotYet(message, field="on")
    return _at_that_time(story, known)


def _at_that_time(story: Story, known: Moments) -> Story:
    pieces = known_rows.pieces(story["pieces"], known)
    assemblies = known_rows.assemblies(story["assemblies"], known)
    reached = {piece["code"] for piece in pieces}
    papers = known_rows.certificates(story["certificates"], known, reached=reached)
    things = {row["code"] for row in assemblies} | {paper["number"] for paper in papers} | reached
    broken = [row for row in story["breaking_tests"] if row["sample"] in reached]
    told: Story = {
        **story,
        "back": known_rows.ropes(story["back"], known),
        "fitting_lots": known_rows.lots(story["fitting_lots"], known),
        "rope_tests": known_rows.tests(story["rope_tests"], known),
        "wire_tests": known_rows.tests(story["wire_tests"], known),
        "point": known_rows.point(story["point"], known),
        "pieces": pieces,
        "reels": [row for row in story["reels"] if known.has(row["code"])],
        "assemblies": assemblies,
        "made_lots": known_rows.lots(story["made_lots"], known),
        "deliveries": [row for row in story["deliveries"] if known.has(row["code"])],
        "customers": known_rows.customers(story["customers"], known, papers=papers),
        "certificates": papers,
        "tags": known_rows.tags(story["tags"], known, on=things),
        "breaking_tests": known_rows.tests(broken, known),
        "proof_tests": known_rows.tests(story["proof_tests"], known),
    }
    holds = [one for one in holds_of(told) if one.reaches != "machine"]
    return {**told, "holds": [hold_told(one) for one in holds if one.stood_at(known.until)]}
