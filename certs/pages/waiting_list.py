"""Decides how what waits is told on the first page: lists of a state, a name and what to do."""

from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from certs.models import BreakingTest, ProofTest
from certs.pages.addresses import page_of
from certs.queries.papers_affected import AffectedPaper
from certs.queries.waiting import Waiting, WaitingDraft, WaitingMachine
from inventory.documents.quantities import day
from inventory.models import Hold, Reel
from inventory.models.hold import SUBJECTS
from inventory.rules.units import format_kn, format_metres


@dataclass(frozen=True, slots=True)
class WaitingRow:
    """One thing that waits, in the shape of `templates/parts/_findings.html`."""

    title: str
    word: str
    shape: str
    text: str
    href: str
    limit: str = ""
    source: str = ""


@dataclass(frozen=True, slots=True)
class WaitingList:
    """A list with its title; `empty` is said when nothing waits, `href` leads to the whole."""

    key: str
    title: str
    rows: tuple[WaitingRow, ...]
    more: int
    empty: str
    href: str


def waiting_lists(found: Waiting, *, on: date) -> list[WaitingList]:
    """Tell what waits, the most dangerous first."""
    return [
        WaitingList(
            "holds",
            "Under hold",
            tuple(_hold(hold) for hold in found.holds.rows),
            found.holds.more,
            "Nothing is under hold.",
            reverse("inventory:holds"),
        ),
        WaitingList(
            "affected",
            "Papers that state more than the record supports",
            tuple(_affected(paper) for paper in found.affected.rows),
            found.affected.more,
            "No paper in force states more than the tests on its rope leave.",
            reverse("certs:affected_papers"),
        ),
        WaitingList(
            "failed",
            "Tests that did not pass",
            (
                *(_retest(test) for test in found.retests.rows),
                *(_breaking(test) for test in found.breaking_tests.rows),
                *(_proof(test) for test in found.proof_tests.rows),
            ),
            found.retests.more + found.breaking_tests.more + found.proof_tests.more,
            "Every test on record passed.",
            reverse("certs:tests"),
        ),
        WaitingList(
            "drafts",
            "Drafts of certificates",
            tuple(_draft(draft) for draft in found.drafts.rows),
            found.drafts.more,
            "No draft waits. Start one from Certificates.",
            f"{reverse('certs:certificates')}?state=draft",
        ),
        WaitingList(
            "machines",
            "Calibrations to renew within 60 days",
            tuple(_machine(machine, on=on) for machine in found.machines.rows),
            found.machines.more,
            "Every testing machine is in calibration for longer than that.",
            reverse("inventory:machines"),
        ),
        WaitingList(
            "reels",
            "Reels without a named basis of strength",
            tuple(_reel(reel) for reel in found.reels.rows),
            found.reels.more,
            "Every reel of a mill has a named basis.",
            reverse("inventory:reels"),
        ),
    ]


def _hold(hold: Hold) -> WaitingRow:
    things = (getattr(hold, name) for name in SUBJECTS)
    subject = next(thing for thing in things if thing is not None)
    stretch = ""
    if hold.from_mm is not None and hold.to_mm is not None:
        stretch = f", {format_metres(hold.from_mm)} to {format_metres(hold.to_mm)}"
    return WaitingRow(
        f"{hold.code}: {subject.code}{stretch}",
        "under hold",
        "stop",
        f"Since {day(hold.placed_at)}: {hold.reason}",
        page_of(hold.code),
    )


def _affected(paper: AffectedPaper) -> WaitingRow:
    first, others = paper.overstated[0], len(paper.overstated) - 1
    more = f", and {others} more" if others else ""
    supported = first.supported or "what it would be rated at now"
    text = (
        f"{first.quantity[:1].upper()}{first.quantity[1:]}: {first.stated} stated, at most"
        f" {supported} supported since {paper.tests[0]}{more}. Purchaser:"
        f" {paper.customer_code or 'none named'}."
    )
    title = f"{paper.number}: {paper.title}"
    return WaitingRow(title, "states too much", "stop", text, page_of(paper.number))


def _retest(test: BreakingTest) -> WaitingRow:
    text = (
        f"Broke near a grip at {format_kn(test.peak_n)} where {format_kn(test.required_n)} was"
        f" required, on {test.sample.reel.code}. Nothing is certified from that rope until another"
        " sample is broken."
    )
    return WaitingRow(
        f"{test.code}: breaking force", "retest due", "wait", text, page_of(test.code)
    )


def _breaking(test: BreakingTest) -> WaitingRow:
    reel = test.sample.reel
    text = (
        f"{format_kn(test.peak_n)} where {format_kn(test.required_n)} was required, on"
        f" {reel.code}. It lowers the certified force of all rope of the same mill’s reel."
    )
    return WaitingRow(f"{test.code}: breaking force", "fails", "stop", text, page_of(test.code))


def _proof(test: ProofTest) -> WaitingRow:
    shape = "stop" if test.outcome == ProofTest.Outcome.FAILS else "wait"
    text = f"{test.assembly.code}: {' '.join(str(reason) for reason in test.reasons[:2])}"
    word = test.get_outcome_display()
    return WaitingRow(f"{test.code}: proof load", word, shape, text, page_of(test.code))


def _draft(draft: WaitingDraft) -> WaitingRow:
    certificate, missing = draft.certificate, draft.missing
    title = f"{certificate.draft_code}: {certificate.get_kind_display()}"
    word, shape = ("lacks something", "wait") if missing else ("ready to issue", "open")
    text = "; ".join(item.name for item in missing) if missing else _for(draft)
    return WaitingRow(title, word, shape, text, page_of(certificate.draft_code))


def _for(draft: WaitingDraft) -> str:
    customer = draft.certificate.customer
    return f"For {customer}." if customer else "No purchaser is named on it."


def _machine(waiting: WaitingMachine, *, on: date) -> WaitingRow:
    due = waiting.due_date
    if due is None:
        word, text = "never calibrated", "Its tests support no certificate."
    elif due < on:
        word, text = "overdue", f"Due on {due}. Tests since then support no certificate."
    else:
        word, text = "due soon", f"Due on {due}."
    return WaitingRow(str(waiting.machine), word, "wait", text, page_of(waiting.machine.code))


def _reel(reel: Reel) -> WaitingRow:
    return WaitingRow(
        f"{reel.code}: {reel.designation}",
        "no basis",
        "wait",
        "Nothing can be certified from it until someone says what its strength rests on.",
        reverse("certs:reel_strength", args=[reel.code]),
    )
