"""Finds every hold that ever reached what a story tells, those released since too.

By the story's own metres, so that it agrees with the standing holds that the genealogy finds; the
holds on machines that a test of the story was made with stand apart from them.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from django.db.models import Q

from certs.queries.batches import in_batches
from certs.queries.trace_shapes import HoldRow, Story
from inventory.models import Hold
from inventory.models.hold import SUBJECTS
from inventory.rules.metres import Stretch

Reaches = Literal["asked", "part", "machine"]


@dataclass(frozen=True, slots=True)
class StoryHold:
    """A hold, and how it reaches the story: what was asked about, a part, a testing machine."""

    hold: Hold
    reaches: Reaches

    @property
    def on(self) -> str:
        """Name the kind of thing that it is on, as a field of `Hold`."""
        return next(name for name in SUBJECTS if getattr(self.hold, name) is not None)

    @property
    def subject(self) -> str:
        """The code of the thing that it is on."""
        return str(getattr(self.hold, self.on).code)

    def stood_at(self, until: datetime) -> bool:
        """Tell whether it had been placed before the moment, and not released before it."""
        released_at = self.hold.released_at
        return self.hold.placed_at < until and (released_at is None or released_at >= until)


def holds_of(story: Story) -> list[StoryHold]:
    """Return the holds that ever reached the story, on what was asked about first."""
    asked, parts = _asked(story), _parts(story)
    machines = {test["machine"] for test in (*story["rope_tests"], *story["proof_tests"])}
    machines |= {test["machine"] for test in story["breaking_tests"]}
    found: list[StoryHold] = []
    for hold in _on({*asked, *parts, *machines}):
        found += _reaching(hold, asked=asked, parts=parts)
    order: list[Reaches] = ["asked", "part", "machine"]
    return sorted(found, key=lambda one: order.index(one.reaches))


def hold_told(one: StoryHold) -> HoldRow:
    """Tell a hold as a row of a story."""
    hold = one.hold
    return {
        "code": hold.code,
        "on": one.on,
        "subject": one.subject,
        "from_mm": hold.from_mm,
        "to_mm": hold.to_mm,
        "reason": hold.reason,
        "placed_at": hold.placed_at.isoformat(),
        "reaches": one.reaches,
    }


# Of each code what part a hold on it must touch: stretches of a reel, nothing for anything else.
_Places = dict[str, list[Stretch]]


def _asked(story: Story) -> _Places:
    """Give what was asked about and what it was made from."""
    places: defaultdict[str, list[Stretch]] = defaultdict(list)
    if story["asked"]["kind"] != "reel":
        places[story["asked"]["code"]] = []
    for rope in story["back"]:
        for reel in rope["reels"]:
            places[reel["code"]].append(Stretch(reel["from_mm"], reel["to_mm"]))
            places[reel["wound_from"]] = []
        for code in (rope["piece"], *(heat["code"] for heat in rope["heats"])):
            places[code] = []
    for lot in story["fitting_lots"]:
        places[lot["code"]] = places[lot["heat"]] = []
    places.pop("", None)
    return places


def _parts(story: Story) -> _Places:
    """Give what was made of it."""
    places: _Places = {
        reel["code"]: [Stretch(first, last) for first, last in reel["touched"]]
        for reel in story["reels"]
    }
    rows = (*story["pieces"], *story["assemblies"], *story["made_lots"])
    return places | {row["code"]: [] for row in rows}


def _reaching(hold: Hold, *, asked: _Places, parts: _Places) -> Iterator[StoryHold]:
    """Yield the hold with how it reaches the story; nothing if it is on other metres of a reel."""
    on_machine = StoryHold(hold, "machine")
    if _touches(hold, asked.get(on_machine.subject)):
        yield StoryHold(hold, "asked")
    elif _touches(hold, parts.get(on_machine.subject)):
        yield StoryHold(hold, "part")
    elif hold.testing_machine is not None:
        yield on_machine


def _touches(hold: Hold, places: list[Stretch] | None) -> bool:
    if places is None:
        return False
    if hold.from_mm is None or hold.to_mm is None or not places:
        return True
    held = Stretch(hold.from_mm, hold.to_mm)
    return any(held.overlaps(place) for place in places)


def _on(codes: set[str]) -> Iterator[Hold]:
    """Yield the holds on things of these codes, in the order in which they were placed."""
    found: list[Hold] = []
    for some in in_batches(codes, times=len(SUBJECTS)):
        on = Q()
        for name in SUBJECTS:
            on |= Q(**{f"{name}__code__in": some})
        related = (*SUBJECTS, "placed_by", "released_by")
        found += list(Hold.objects.filter(on).select_related(*related))
    yield from sorted(found, key=lambda hold: (hold.placed_at, hold.pk))
