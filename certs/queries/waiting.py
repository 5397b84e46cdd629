"""Finds what waits for someone: drafts, holds, reels to accept, calibrations, failed tests.

Each list is cut to what fits a start page, with the whole count beside it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Generic, TypeVar

from django.db.models import Exists, Max, Model, OuterRef, Q, QuerySet

from certs.models import BreakingTest, Certificate, ProofTest
from certs.queries.check_item import CheckItem
from certs.queries.checklist import checklists, lacking
from certs.queries.failures_to_judge import failures_to_judge
from certs.queries.papers_affected import AffectedPaper, papers_affected
from certs.queries.reels_to_accept import (
    ReelToAccept,
    holds_of_doubt,
    reels_to_accept,
    with_their_checks,
)
from certs.queries.retests_due import retests_due
from inventory.models import Hold, TestingMachine
from inventory.models.hold import SUBJECTS

SHOWN = 8
# What a draft lacks takes up to thirty questions to the record; older ones are looked over first.
LOOKED_OVER = 24
CALIBRATION_NOTICE = timedelta(days=60)

Row = TypeVar("Row")
AnyModel = TypeVar("AnyModel", bound=Model)


@dataclass(frozen=True, slots=True)
class Some(Generic[Row]):
    """The first rows of a list, and how many there are."""

    rows: Sequence[Row]
    count: int

    @property
    def more(self) -> int:
        """Count what is not shown."""
        return self.count - len(self.rows)


@dataclass(frozen=True, slots=True)
class WaitingDraft:
    """A draft and what it still lacks; nothing lacking means that it is ready to issue."""

    certificate: Certificate
    missing: tuple[CheckItem, ...]


@dataclass(frozen=True, slots=True)
class WaitingMachine:
    """A testing machine whose last calibration runs out soon, has run out, or never was."""

    machine: TestingMachine
    due_date: date | None


@dataclass(frozen=True, slots=True)
class Waiting:
    """Everything that waits, each list with its oldest or most urgent first.

    `drafts` holds all that were looked over, of however many there are.
    """

    drafts: Some[WaitingDraft]
    holds: Some[Hold]
    reels: Some[ReelToAccept]
    machines: Some[WaitingMachine]
    affected: Some[AffectedPaper]
    retests: Some[BreakingTest]
    breaking_tests: Some[BreakingTest]
    proof_tests: Some[ProofTest]


def waiting(*, on: date, key_trouble: str = "") -> Waiting:
    """Find what waits on a day; with what keeps the keys from signing, as services found it."""
    affected = papers_affected()
    return Waiting(
        drafts=_drafts(on, key_trouble),
        holds=_some(
            Hold.objects.filter(released_at=None)
            .exclude(pk__in=holds_of_doubt().values("pk"))
            .select_related(*SUBJECTS, "placed_by")
            .order_by("placed_at", "id")
        ),
        reels=_reels(),
        machines=_machines(on),
        affected=_first(affected),
        retests=_first(retests_due()),
        breaking_tests=_first(failures_to_judge(affected)),
        proof_tests=_some(
            ProofTest.objects.filter(reversal=None)
            .exclude(outcome=ProofTest.Outcome.PASSES)
            .exclude(Exists(_passed_since()))
            .select_related("assembly")
            .order_by("-tested_at", "-id")
        ),
    )


def _reels() -> Some[ReelToAccept]:
    found = _some(reels_to_accept())
    return Some(with_their_checks(found.rows), found.count)


def _passed_since() -> QuerySet[ProofTest]:
    """Return the later tests that settle one of an assembly which did not pass."""
    return ProofTest.objects.filter(
        assembly=OuterRef("assembly"),
        outcome=ProofTest.Outcome.PASSES,
        machine_problems=[],
        reversal=None,
        tested_at__gt=OuterRef("tested_at"),
    )


def _drafts(on: date, key_trouble: str) -> Some[WaitingDraft]:
    drafts = Certificate.objects.filter(state=Certificate.State.DRAFT).select_related(
        "customer", "assembly__order_line", "breaking_test__machine", "replaces"
    )
    oldest = list(drafts.order_by("id")[:LOOKED_OVER])
    found = checklists(oldest, on=on, key_trouble=key_trouble)
    rows = [
        WaitingDraft(draft, tuple(lacking(items)))
        for draft, items in zip(oldest, found, strict=True)
    ]
    return Some(rows, drafts.count())


def _machines(on: date) -> Some[WaitingMachine]:
    latest = TestingMachine.objects.annotate(due_date=Max("calibrations__due_date"))
    late = latest.filter(Q(due_date=None) | Q(due_date__lte=on + CALIBRATION_NOTICE))
    dues = dict(late.values_list("pk", "due_date"))
    rows = list(TestingMachine.objects.filter(pk__in=dues).order_by("id"))
    # One that was never calibrated comes first.
    rows.sort(key=lambda machine: dues[machine.pk] or date.min)
    return Some([WaitingMachine(row, dues[row.pk]) for row in rows[:SHOWN]], len(rows))


def _first(rows: Sequence[Row]) -> Some[Row]:
    return Some(rows[:SHOWN], len(rows))


def _some(rows: QuerySet[AnyModel]) -> Some[AnyModel]:
    return Some(list(rows[:SHOWN]), rows.count())
