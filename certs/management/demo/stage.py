"""What the demonstration has made so far, and its calendar: fixed working hours, no clock."""

from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from random import Random

from certs.models import Certificate, Representative
from inventory.models import (
    Assembly,
    CutPiece,
    FittingLot,
    Heat,
    MillDocument,
    Order,
    Party,
    Person,
    Reel,
    TestingMachine,
)

FIRST_DAY = date(2026, 6, 8)
OPENS, CLOSES = time(7, 0), time(15, 30)
EACH_ACT = timedelta(minutes=11)
SATURDAY = 5


class Calendar:
    """Moments in order: each act 11 minutes after the last, on working days alone."""

    def __init__(self) -> None:
        """Begin when the house opens on the first day."""
        self._now = _opening(FIRST_DAY)

    def moment(self) -> datetime:
        """Return the moment of the next act."""
        self._now += EACH_ACT
        if self._now.time() > CLOSES:
            self.wait(days=1)
        return self._now

    @property
    def today(self) -> date:
        """The day that it is."""
        return self._now.date()

    def wait(self, *, days: int) -> None:
        """Go on in the morning, some days later."""
        self._now = _opening(self.today + timedelta(days=days))

    def wait_until(self, day: date) -> None:
        """Go on in the morning of a day.

        Raises:
            ValueError: the day is past; the scenario has grown longer than its calendar.
        """
        opening = _opening(day)
        if opening < self._now:
            message = f"it is {self.today} already, too late for {day}"
            raise ValueError(message)
        self._now = opening


@dataclass(slots=True)
class Stage:
    """Everything of the demonstration by the name that its tables give it.

    `chance` is seeded, so that every run makes the same lengths and choices.
    """

    calendar: Calendar = field(default_factory=Calendar)
    chance: Random = field(default_factory=lambda: Random(12385))  # noqa: S311 -- no secret
    people: dict[str, Person] = field(default_factory=dict)
    parties: dict[str, Party] = field(default_factory=dict)
    heats: dict[tuple[str, str], Heat] = field(default_factory=dict)
    documents: dict[str, MillDocument] = field(default_factory=dict)
    reels: dict[str, Reel] = field(default_factory=dict)
    lots: dict[str, FittingLot] = field(default_factory=dict)
    machines: dict[str, TestingMachine] = field(default_factory=dict)
    representatives: dict[str, Representative] = field(default_factory=dict)
    orders: list[Order] = field(default_factory=list)
    supplied: list[CutPiece] = field(default_factory=list)
    assemblies: dict[str, Assembly] = field(default_factory=dict)
    certificates: dict[str, Certificate] = field(default_factory=dict)

    @property
    def customers(self) -> list[Party]:
        """The customers, in the order of their codes."""
        found = (party for party in self.parties.values() if party.kind == Party.Kind.CUSTOMER)
        return sorted(found, key=lambda party: party.code)


def _opening(day: date) -> datetime:
    while day.weekday() >= SATURDAY:
        day += timedelta(days=1)
    return datetime.combine(day, OPENS, UTC)
