"""Decides how what waits is told on the first page: lists of a state, a name and what to do."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from certs.models import BreakingTest, ProofTest
from certs.pages.addresses import page_of
from certs.queries.papers_affected import AffectedPaper
from certs.queries.receiving_checks import points
from certs.queries.reels_to_accept import ReelToAccept
from certs.queries.waiting import SHOWN, Waiting, WaitingDraft, WaitingMachine
from certs.rules.finding import Verdict
from inventory.models import Hold
from inventory.models.hold import SUBJECTS
from inventory.pages.reading import day, shown_force, shown_metres


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
    """A list with its title; `empty` is what it is called where nothing of it waits.

    `beyond` more were not looked over: nobody knows yet on which list they belong.
    """

    key: str
    title: str
    rows: tuple[WaitingRow, ...]
    more: int
    empty: str
    href: str
    beyond: int = 0

    @property
    def count(self) -> int:
        """Count everything that waits, shown or not."""
        return len(self.rows) + self.more


def waiting_lists(found: Waiting, *, on: date) -> list[WaitingList]:
    """Tell what waits, the most dangerous first."""
    ready = [draft for draft in found.drafts.rows if not draft.missing]
    lacking = [draft for draft in found.drafts.rows if draft.missing]
    return [
        WaitingList(
            "holds",
            "Under hold",
            tuple(_hold(hold) for hold in found.holds.rows),
            found.holds.more,
            "holds",
            reverse("inventory:holds"),
        ),
        WaitingList(
            "affected",
            "Papers that state more than the record supports",
            tuple(_affected(paper) for paper in found.affected.rows),
            found.affected.more,
            "papers that state too much",
            reverse("certs:affected_papers"),
        ),
        _tests(found),
        WaitingList(
            "reels",
            "Reels to accept",
            tuple(_reel(one) for one in found.reels.rows),
            found.reels.more,
            "reels to accept",
            reverse("inventory:reels"),
        ),
        _drafts("ready", "Certificates ready to issue", ready, beyond=found.drafts.more),
        _drafts("drafts", "Drafts that lack something", lacking, beyond=found.drafts.more),
        WaitingList(
            "machines",
            "Calibrations to renew within 60 days",
            tuple(_machine(machine, on=on) for machine in found.machines.rows),
            found.machines.more,
            "calibrations to renew within 60 days",
            reverse("inventory:machines"),
        ),
    ]


def _tests(found: Waiting) -> WaitingList:
    return WaitingList(
        "failed",
        "Tests to judge",
        (
            *(_retest(test) for test in found.retests.rows),
            *(_breaking(test) for test in found.breaking_tests.rows),
            *(_proof(test) for test in found.proof_tests.rows),
        ),
        found.retests.more + found.breaking_tests.more + found.proof_tests.more,
        "tests to judge",
        reverse("certs:tests"),
    )


def _drafts(key: str, title: str, drafts: Sequence[WaitingDraft], *, beyond: int) -> WaitingList:
    return WaitingList(
        key,
        title,
        tuple(_draft(draft) for draft in drafts[:SHOWN]),
        len(drafts[SHOWN:]),
        f"{title[:1].lower()}{title[1:]}",
        f"{reverse('certs:certificates')}?state=draft",
        beyond,
    )


def _hold(hold: Hold) -> WaitingRow:
    things = (getattr(hold, name) for name in SUBJECTS)
    subject = next(thing for thing in things if thing is not None)
    stretch = ""
    if hold.from_mm is not None and hold.to_mm is not None:
        stretch = f", {shown_metres(hold.from_mm)} to {shown_metres(hold.to_mm)}"
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
        f"Broke near a grip at {shown_force(test.peak_n)} where {shown_force(test.required_n)} was"
        f" required, on {test.sample.reel.code}. Nothing is certified from that rope until another"
        " sample is broken."
    )
    return WaitingRow(
        f"{test.code}: breaking force", "retest due", "wait", text, page_of(test.code)
    )


def _breaking(test: BreakingTest) -> WaitingRow:
    reel = test.sample.reel
    text = (
        f"{shown_force(test.peak_n)} where {shown_force(test.required_n)} was required, on"
        f" {reel.code}. It lowers the certified force of all rope of the same mill’s reel. It waits"
        " until no paper in force states more, and a later sample held or its basis is named anew."
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
    text = f"Lacks: {'; '.join(item.name for item in missing)}." if missing else _for(draft)
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


def _reel(waiting: ReelToAccept) -> WaitingRow:
    reel, check = waiting.reel, waiting.check
    title = f"{reel.code}: {reel.designation}"
    no_basis = " No basis of its strength is named either." if waiting.lacks_basis else ""
    if check is None:
        text = f"Measure it and hold it against its mill document.{no_basis}"
        checking = reverse("certs:check_reel", args=[reel.code])
        return WaitingRow(title, "not checked", "wait", text, checking)
    if waiting.is_in_doubt:
        against = "; ".join(points(check, Verdict.DISAGREE))
        hold = f", under hold {check.hold.code}" if check.hold else ""
        text = f"Check {check.code}{hold}: {against}.{no_basis}"
        return WaitingRow(title, "does not agree", "stop", text, page_of(check.code))
    text = "Say what its strength rests on; nothing can be certified from it until then."
    naming = reverse("certs:reel_strength", args=[reel.code])
    return WaitingRow(title, "no basis", "wait", text, naming)
