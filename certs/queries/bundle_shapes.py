"""What an auditor's bundle is made of: the rows of the record behind one story."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

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
from certs.queries.story_holds import StoryHold
from certs.queries.trace_shapes import Story
from inventory.models import Checkpoint, JournalEntry, MillDocument, Person, StoredFile


@dataclass(frozen=True, slots=True, kw_only=True)
class Bundled:
    """Everything of one story, read at one moment. `on` is the past day it is told of, if any.

    What came at `until` or later is left out: the end of that day, or the moment of the reading.
    `recorded` tells when each thing of the story was recorded, by its code. `entries` are those of
    the journal about the story; `checkpoint` is the standing one, `former` the last one of the day
    `on`. `people` are named by the hash that the journal names them by.
    """

    story: Story
    on: date | None
    read_at: datetime
    until: datetime
    recorded: Mapping[str, datetime]
    certificates: Sequence[Certificate]
    renewals: Sequence[PaperRenewal]
    mill_documents: Sequence[MillDocument]
    breaking_tests: Sequence[BreakingTest]
    proof_tests: Sequence[ProofTest]
    wire_tests: Sequence[WireTest]
    checks: Sequence[ReceivingCheck]
    holds: Sequence[StoryHold]
    reports: Sequence[SiteReport]
    notices: Sequence[RecallNotice]
    entries: Sequence[JournalEntry]
    people: Mapping[str, Person]
    checkpoint: Checkpoint | None
    former: Checkpoint | None

    @property
    def code(self) -> str:
        """The code of the thing that was asked about."""
        return self.story["asked"]["code"]

    @property
    def kept_files(self) -> list[StoredFile]:
        """Every kept file that goes in."""
        logs = [test.log for test in self.breaking_tests]
        logs += [test.log for test in self.proof_tests]
        papers = [paper.pdf for paper in self.certificates]
        scans = [document.file for document in self.mill_documents]
        renewed = [renewal.file for renewal in self.renewals]
        photos = [photo.file for report in self.reports for photo in report.photos.all()]
        letters = [notice.letter for notice in self.notices]
        every = (*logs, *papers, *scans, *renewed, *photos, *letters)
        return [kept for kept in every if kept is not None]
