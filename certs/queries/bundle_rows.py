"""Reads the rows behind a story: papers, tests, checks, documents, and what the journal says.

`until` is the end of the day that is asked about; None means that everything counts.
"""

import json
from collections.abc import Collection, Iterator
from datetime import datetime
from itertools import chain

from django.db.models import Q

from certs.models import (
    BreakingTest,
    Certificate,
    PaperRenewal,
    ProofTest,
    RecallNotice,
    ReceivingCheck,
    SiteReport,
    WireTest,
)
from certs.queries.batches import in_batches
from certs.queries.story_holds import StoryHold
from certs.queries.trace_shapes import Story
from inventory.models import Checkpoint, JournalEntry, MillDocument, Person


def certificates_of(story: Story) -> list[Certificate]:
    """Read the issued papers of a story; drafts are no record."""
    numbers = [row["number"] for row in story["certificates"] if row["number"]]
    found: list[Certificate] = []
    for some in in_batches(numbers):
        found += Certificate.objects.filter(number__in=some).select_related("pdf", "customer")
    return sorted(found, key=lambda paper: str(paper.number))


def renewals_of(
    certificates: Collection[Certificate], *, until: datetime | None
) -> list[PaperRenewal]:
    """Read the files of these papers that bear a later time stamp."""
    found = PaperRenewal.objects.filter(certificate__in=certificates)
    rows = found.select_related("certificate", "file").order_by("made_at", "id")
    return [row for row in rows if until is None or row.made_at < until]


def breaking_tests_of(story: Story) -> list[BreakingTest]:
    """Read the breaking tests on the rope, and on the samples that were reached."""
    codes = {row["code"] for row in (*story["rope_tests"], *story["breaking_tests"])}
    found: list[BreakingTest] = []
    for some in in_batches(codes):
        found += BreakingTest.objects.filter(code__in=some).select_related(
            "sample__reel", "machine", "calibration", "log", "retest_of", "decision_rule",
            "tested_by",
        )  # fmt: skip
    return sorted(found, key=lambda test: test.code)


def proof_tests_of(story: Story) -> list[ProofTest]:
    """Read the proof loads of the assemblies that were reached."""
    found: list[ProofTest] = []
    for some in in_batches({row["code"] for row in story["proof_tests"]}):
        found += ProofTest.objects.filter(code__in=some).select_related(
            "assembly", "machine", "calibration", "log", "decision_rule", "tested_by"
        )
    return sorted(found, key=lambda test: test.code)


def wire_tests_of(story: Story) -> list[WireTest]:
    """Read the wire tests on the rope, with each wire."""
    related = ("reel", "sample", "machine", "calibration", "tested_by")
    found: list[WireTest] = []
    for some in in_batches({row["code"] for row in story["wire_tests"]}):
        tests = WireTest.objects.filter(code__in=some)
        found += tests.select_related(*related).prefetch_related("wires")
    return sorted(found, key=lambda test: test.code)


def checks_of(story: Story, *, until: datetime | None) -> list[ReceivingCheck]:
    """Read the receiving checks of every reel of the story."""
    found: list[ReceivingCheck] = []
    for some in in_batches(reels_in(story)):
        rows = ReceivingCheck.objects.filter(reel__code__in=some)
        found += rows.select_related("reel", "agreed", "hold", "checked_by")
    known = (check for check in found if until is None or check.checked_at < until)
    return sorted(known, key=lambda check: check.code)


def documents_of(story: Story, *, until: datetime | None) -> list[MillDocument]:
    """Read the makers' documents of every reel and fitting lot of the story."""
    lots = {lot["code"] for lot in (*story["fitting_lots"], *story["made_lots"])}
    if story["asked"]["kind"] == "fitting lot":
        lots.add(story["asked"]["code"])
    found: set[MillDocument] = set()
    for some in in_batches(reels_in(story) | lots, times=2):
        rows = MillDocument.objects.filter(Q(reels__code__in=some) | Q(fitting_lots__code__in=some))
        found.update(rows.select_related("mill", "file", "filed_by"))
    known = (paper for paper in found if until is None or paper.filed_at < until)
    return sorted(known, key=lambda paper: paper.code)


def reels_in(story: Story) -> set[str]:
    """Give the codes of every reel of a story."""
    back = {reel["code"] for rope in story["back"] for reel in rope["reels"]}
    return back | {reel["code"] for reel in story["reels"]}


def reports_of(story: Story, *, until: datetime | None) -> list[SiteReport]:
    """Read the reports from site that were made at the tags of the story."""
    found: list[SiteReport] = []
    for some in in_batches({tag["code"] for tag in story["tags"]}):
        rows = SiteReport.objects.filter(tag__code__in=some).select_related("tag", "hold")
        found += rows.select_related("closed_by").prefetch_related("photos__file")
    known = (report for report in found if until is None or report.received_at < until)
    return sorted(known, key=lambda report: report.code)


def notices_of(holds: Collection[StoryHold], *, until: datetime | None) -> list[RecallNotice]:
    """Read the letters of recalls that were written from these holds."""
    found: list[RecallNotice] = []
    for some in in_batches({one.hold.code for one in holds}):
        rows = RecallNotice.objects.filter(hold__code__in=some)
        found += rows.select_related("hold", "customer", "letter", "written_by", "sent_by")
    known = (notice for notice in found if until is None or notice.written_at < until)
    return sorted(known, key=lambda notice: notice.code)


def entries_about(codes: Collection[str], *, until: datetime | None) -> list[JournalEntry]:
    """Read the entries of the journal about these codes, in their order."""
    found: list[JournalEntry] = []
    for some in in_batches(codes):
        found += JournalEntry.objects.filter(subject__in=some).select_related("by")
    known = (entry for entry in found if until is None or entry.at < until)
    return sorted(known, key=lambda entry: entry.number)


def people_in(entries: Collection[JournalEntry]) -> dict[str, Person]:
    """Give who acted, by the hash that the journal names them by."""
    return {str(json.loads(entry.canonical)["by"]): entry.by for entry in entries}


def subjects_of(
    story: Story, *, holds: Collection[StoryHold], others: Collection[str]
) -> Iterator[str]:
    """Give every code that the journal may speak of in a story."""
    yield from others
    yield story["asked"]["code"]
    for rope in story["back"]:
        yield rope["piece"]
        yield from (reel["wound_from"] for reel in rope["reels"])
        yield from (heat["code"] for heat in rope["heats"])
    yield from reels_in(story)
    for row in chain(story["pieces"], story["assemblies"], story["deliveries"]):
        yield row["code"]
    for lot in chain(story["fitting_lots"], story["made_lots"]):
        yield from (lot["code"], lot["heat"])
    for test in chain(story["rope_tests"], story["breaking_tests"], story["proof_tests"]):
        yield from (test["code"], test["machine"])
    yield from (test["code"] for test in story["wire_tests"])
    for paper in story["certificates"]:
        yield from (paper["number"], paper["draft_code"])
    yield from (one.hold.code for one in holds)


def checkpoint_before(moment: datetime) -> Checkpoint | None:
    """Return the last checkpoint that was made before a moment."""
    return Checkpoint.objects.filter(made_at__lt=moment).order_by("-size").first()
