"""Hands out an auditor's bundle: gathers it at one moment, writes it, and journals who took it.

1. Sign a checkpoint where that can be done, so that it covers what the bundle holds.
2. Read the record as of one moment, and refuse what is too large.
3. Write file by file into what the caller opened; kept files are read one at a time.
4. Journal who took which bundle, with the SHA-256 of its manifest: only then it is handed out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import IO, Final

from django.conf import settings
from django.db import transaction

from certs.documents.bundle_archive import BundleFile, WrittenBundle, write_bundle
from certs.documents.bundle_readme import Cover, readme_text
from certs.documents.bundle_report import bundle_report_pdf
from certs.documents.verifier_file import NAME as VERIFIER
from certs.queries.audit.one_moment import one_moment
from certs.queries.bundle import bundled
from certs.queries.bundle_files import bundle_files
from certs.queries.bundle_journal import unproved
from certs.queries.bundle_kept import PROBLEM
from certs.queries.bundle_report import report_facts
from certs.queries.bundle_shapes import Bundled
from certs.queries.bundle_tests import tests_told
from certs.queries.letterhead import logo_of
from certs.queries.row_facts import person_told
from certs.queries.trace_find import find_traceable
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres
from inventory.services.checkpoint import checkpoint_if_able
from inventory.services.journal import append

MOST_BYTES: Final = 512 * 1024 * 1024
"""As much of kept files goes into one bundle; own choice, half of what the verifier reads."""
MOST_ENTRIES: Final = 10_000
"""As many entries of the journal; own choice, half of the files that the verifier reads."""


class CannotBundle(Refusal):
    """The bundle would be too large to be handed over as one file."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a bundle is asked of: a code, or metres of a reel; a past day; with names or roles."""

    code: str
    on: date | None = None
    from_mm: int | None = None
    to_mm: int | None = None
    with_names: bool = True


@dataclass(frozen=True, slots=True)
class TakenBundle:
    """A bundle that was written and journalled, and what to call it."""

    name: str
    written: WrittenBundle


def take_bundle(*, asked: Asked, into: IO[bytes], by: Person, at: datetime) -> TakenBundle:
    """Write the bundle of what is asked, and journal that it was taken.

    Args:
        into: an open file that can be sought in.

    Raises:
        NotAllowed: the person's role takes no bundles.
        CannotBundle: it would be too large.
        Refusal: the code leads nowhere, or the day or the stretch is none.
    """
    require(by=by, act=ClaimAct.TAKE_BUNDLE)
    bundle = read_bundle(asked, at=at)
    check_size(bundle)
    written = write_bundle(
        into, _files(bundle, asked=asked, by=by), made_at=at, about=about(bundle)
    )
    with transaction.atomic():
        append(
            at=at,
            by=by,
            act=ClaimAct.TAKE_BUNDLE,
            subject=bundle.code,
            detail={
                "manifest_sha256": written.manifest_sha256,
                "files": written.files,
                "on": asked.on.isoformat() if asked.on else None,
                "from_mm": asked.from_mm,
                "to_mm": asked.to_mm,
                "with_names": asked.with_names,
            },
        )
    return TakenBundle(name=f"{_stem(bundle)}.zip", written=written)


def read_bundle(asked: Asked, *, at: datetime) -> Bundled:
    """Read what goes into a bundle, as of one moment, under a fresh checkpoint where one can be.

    Raises:
        Refusal: the code leads nowhere, or the day or the stretch is none.
    """
    find_traceable(asked.code)  # before anything is signed
    checkpoint_if_able(at=at)
    with one_moment():
        return bundled(asked.code, on=asked.on, at=at, from_mm=asked.from_mm, to_mm=asked.to_mm)


def check_size(bundle: Bundled) -> None:
    """Refuse a bundle that is too large.

    Raises:
        CannotBundle: with how large it would be, and what to ask instead.
    """
    size = sum(kept.size_bytes for kept in {kept.pk: kept for kept in bundle.kept_files}.values())
    instead = "Ask for a piece, an assembly or a stretch of the reel instead."
    if size > MOST_BYTES:
        much, most = size // 1024**2, MOST_BYTES // 1024**2
        raise CannotBundle(f"It would hold {much} MiB of files; {most} are the most. {instead}")
    if len(bundle.entries) > MOST_ENTRIES:
        message = f"It would hold {len(bundle.entries)} entries of the journal, and as many proofs;"
        raise CannotBundle(f"{message} {MOST_ENTRIES} are the most. {instead}")


def about(bundle: Bundled) -> str:
    """Say in one line what a bundle is about."""
    asked = bundle.story["asked"]
    from_mm, to_mm = asked["from_mm"], asked["to_mm"]
    where = ""
    if from_mm is not None and to_mm is not None:
        where = f", {format_metres(from_mm)} to {format_metres(to_mm)}"
    return f"{asked['kind']} {asked['code']}{where}: {asked['text']}"


def _files(bundle: Bundled, *, asked: Asked, by: Person) -> Iterator[BundleFile]:
    """Yield every file; the README comes last of all, as it names them."""
    tests = list(tests_told(bundle, with_names=asked.with_names))
    listed: list[tuple[str, str]] = []
    gaps = list(_gaps(bundle))
    for file in bundle_files(bundle, tests=tests, with_names=asked.with_names):
        listed.append((file.path, file.what))
        if file.path.endswith(PROBLEM):
            gaps.append(f"{file.what}: {file.path} says why.")
        yield file
    cover = _cover(bundle, gaps=gaps, who=person_told(by, with_names=asked.with_names))
    facts = report_facts(bundle, cover=cover, tests=tests, with_names=asked.with_names)
    report = bundle_report_pdf(
        facts,
        made_at=bundle.read_at,
        identifier=f"{_stem(bundle)} {bundle.read_at.isoformat()}",
        logo=logo_of(facts["issuer"]["logo_sha256"]),
    )
    words = "The whole story, to be read"
    yield BundleFile("report.pdf", words, lambda: report)
    listed = [("README.txt", "This text"), ("report.pdf", words), *listed]
    text = readme_text(cover, files=listed, verifier=VERIFIER)
    yield BundleFile.of_text("README.txt", "What each file is, and how to check them", text)


def _cover(bundle: Bundled, *, gaps: list[str], who: str) -> Cover:
    known = "It is told as it is known now."
    if bundle.on is not None:
        known = (
            f"As known on {bundle.on.isoformat()}, when that day ended. Everything recorded after"
            " it is left out."
        )
    return Cover(
        about=about(bundle),
        known=known,
        house=settings.ISSUER_NAME,
        by=who,
        made_at=bundle.read_at,
        gaps=gaps,
    )


def _gaps(bundle: Bundled) -> Iterator[str]:
    """Say what is not in it: drafts, entries without a proof, a checkpoint that nobody made."""
    yield "Drafts of certificates: they are no record. Their codes stand in story.json, if any."
    left = unproved(bundle)
    if left:
        yield f"Proofs of {len(left)} journal entries that no signed checkpoint covers yet."
    if bundle.on is not None and bundle.former is None:
        yield "A checkpoint of that day: none had been signed by then."


def _stem(bundle: Bundled) -> str:
    day = f"-on-{bundle.on.isoformat()}" if bundle.on else ""
    return f"record-{bundle.code}{day}"
