"""Decides which files an auditor's bundle has, where each stands in it, and what it is called.

One file is read at a time. A kept file that is not as it was kept is replaced by the words that
say so; nothing is left out in silence.
"""

from collections.abc import Iterator

from django.conf import settings

from certs.documents.bundle_archive import BundleFile
from certs.documents.provenance import provenance
from certs.documents.verifier_file import NAME as VERIFIER
from certs.documents.verifier_file import verifier_text
from certs.models import Certificate, ReceivingCheck, WireTest
from certs.queries.bundle_aftermath import aftermath_files
from certs.queries.bundle_journal import issue_proof, journal_files, key_files
from certs.queries.bundle_kept import json_file, kept_file
from certs.queries.bundle_shapes import Bundled
from certs.queries.bundle_tests import TestTold
from certs.queries.lineage import lineage_of
from certs.queries.row_facts import Facts, person_told, row_facts
from inventory.documents.lineage_chart import draw_lineage
from inventory.documents.svg import Drawing


def bundle_files(
    bundle: Bundled, *, tests: list[TestTold], with_names: bool
) -> Iterator[BundleFile]:
    """Yield every file but the report and the README."""
    yield from _story_files(bundle)
    for paper in bundle.certificates:
        yield from _paper_files(bundle, paper)
    for renewal in bundle.renewals:
        number, made = str(renewal.certificate.number), f"{renewal.made_at:%Y%m%dT%H%M%S}"
        path = f"certificates/{number}/{number}-renewed-{made}"
        yield kept_file(path, f"{number} with a later time stamp", renewal.file)
    for document in bundle.mill_documents:
        words = f"{document.kind} {document.number} of {document.mill}"
        yield kept_file(f"mill-documents/{document.code}", words, document.file)
    for told in tests:
        yield from _test_files(told, with_names=with_names)
    for wires in bundle.wire_tests:
        facts = _wire_facts(wires, with_names=with_names)
        yield json_file(f"tests/{wires.code}/record.json", f"Wire test {wires.code}", facts)
    for check in bundle.checks:
        yield _check_file(check, with_names=with_names)
    yield json_file("holds.json", "Holds, and what was decided", holds_told(bundle, with_names))
    yield json_file("people.json", "Who acted", people_told(bundle, with_names))
    yield from aftermath_files(bundle, with_names=with_names)
    yield from journal_files(bundle)
    yield from key_files()
    yield BundleFile.of_text(VERIFIER, "The program that checks all this", verifier_text())


def drawn_lineage(bundle: Bundled) -> Drawing:
    """Draw where the thing came from and where it went; what is held is marked."""
    nodes, edges = lineage_of(bundle.story, held=_held(bundle))
    return draw_lineage(nodes=nodes, edges=edges)


def holds_told(bundle: Bundled, with_names: bool) -> list[Facts]:  # noqa: FBT001 -- of the bundle
    """Tell the holds; a release that came after the day asked about is not told."""
    told = []
    for one in bundle.holds:
        facts = row_facts(one.hold, with_names=with_names) | {"reaches": one.reaches}
        released = one.hold.released_at
        if released is not None and released >= bundle.until:
            facts |= {"released_at": None, "released_by": None, "release_reason": ""}
        told.append(facts)
    return told


def people_told(bundle: Bundled, with_names: bool) -> list[Facts]:  # noqa: FBT001 -- of the bundle
    """Tell who acted, by the hash in the journal's entries."""
    return [
        {"by": by, "who": person_told(person, with_names=with_names)}
        for by, person in sorted(bundle.people.items())
    ]


def _held(bundle: Bundled) -> set[str]:
    return {hold["subject"] for hold in bundle.story["holds"]}


def _story_files(bundle: Bundled) -> Iterator[BundleFile]:
    nodes, edges = lineage_of(bundle.story, held=_held(bundle))
    recorded = {code: at.isoformat() for code, at in bundle.recorded.items()}
    traced = provenance(bundle.story, recorded=recorded, origin=settings.PUBLIC_ORIGIN)
    drawn = {
        "nodes": [
            {"key": n.key, "kind": n.kind, "label": n.label, "note": n.note, "held": n.is_held}
            for n in nodes
        ],
        "edges": [{"source": e.source, "target": e.target, "label": e.label} for e in edges],
    }
    yield json_file("story/story.json", "The whole story, lengths in mm, forces in N", bundle.story)
    yield BundleFile.of_text("story/lineage.svg", "Genealogy, drawn", str(drawn_lineage(bundle)))
    yield json_file("story/lineage.json", "Genealogy, as nodes and lines", drawn)
    yield json_file("story/provenance.jsonld", "Genealogy, as W3C PROV-O in JSON-LD", traced)


def _paper_files(bundle: Bundled, paper: Certificate) -> Iterator[BundleFile]:
    number = str(paper.number)
    folder = f"certificates/{number}"
    if paper.pdf is not None:
        yield kept_file(f"{folder}/{number}", f"Certificate {number} as issued", paper.pdf)
    words = f"What {number} says, as frozen (RFC 8785)"
    yield BundleFile.of_text(f"{folder}/{number}.json", words, paper.snapshot)
    if paper.credential:
        words = f"{number} for machines, with a proof of its own"
        yield BundleFile.of_text(f"{folder}/{number}.credential.json", words, paper.credential)
    proof = issue_proof(bundle, number=number)
    if proof is not None:
        words = f"Proof that the issue of {number} is in the journal"
        yield BundleFile(f"{folder}/{number}.tlog-proof", words, lambda: proof)


def _test_files(told: TestTold, *, with_names: bool) -> Iterator[BundleFile]:
    test, folder = told.test, f"tests/{told.test.code}"
    facts = row_facts(test, with_names=with_names) | {"reversed_at": told.reversed_at}
    yield json_file(f"{folder}/record.json", f"{told.kind} {test.code}", facts)
    if test.log is not None:
        words = f"Force log of {test.code}, as the machine wrote it"
        yield kept_file(f"{folder}/log", words, test.log)
    if told.curve is not None:
        path = f"{folder}/force.svg"
        yield BundleFile.of_text(path, f"Force over time of {test.code}", str(told.curve))


def _wire_facts(test: WireTest, *, with_names: bool) -> Facts:
    wires = [row_facts(wire, with_names=with_names) for wire in test.wires.all()]
    return row_facts(test, with_names=with_names) | {"wires": wires}


def _check_file(check: ReceivingCheck, *, with_names: bool) -> BundleFile:
    words = f"Receiving check of reel {check.reel.code}: {check.get_outcome_display()}"
    facts = row_facts(check, with_names=with_names)
    return json_file(f"receiving-checks/{check.code}.json", words, facts)
