"""Clients signed in as each role, and one record in which every kind of claim occurs."""

from dataclasses import dataclass

import pytest

from certs.models import BreakingTest, Certificate, ProofTest, ReceivingCheck, Tag, WireTest
from certs.services.tags import issue_tag
from inventory.models import Assembly, CutPiece, Reel
from tests.certs.claims import given_breaking_test, given_proof_test
from tests.certs.papers import (
    given_assembly_draft,
    given_certifiable_assembly,
    given_certifiable_piece,
    given_cut_length_draft,
    given_documented_reel,
    issued,
)
from tests.certs.wires import given_wire_test
from tests.factories import MOMENT, given_delivery, given_person, given_sample, pdf_bytes


@dataclass(frozen=True, slots=True)
class Claims:
    reel: Reel
    check: ReceivingCheck
    piece: CutPiece
    assembly: Assembly
    sample: CutPiece
    breaking: BreakingTest
    proof: ProofTest
    wires: WireTest
    draft: Certificate
    certificate: Certificate
    tag: Tag


@pytest.fixture
def plain_paper(monkeypatch) -> None:
    """Issue a blank page for the certificate: rendering is slow, and is tested with documents."""
    monkeypatch.setattr(
        "certs.services.print_certificate.certificate_pdf",
        lambda _snapshot, *, canonical, credential, **_: pdf_bytes(canonical + credential),
    )


@pytest.fixture
def claims(tables, plain_paper) -> Claims:
    """A reel with a basis and a test; a piece delivered on a paper; a sling proved and drafted."""
    reel = given_documented_reel()
    sample = given_sample(reel=reel)
    breaking = given_breaking_test(sample=sample, peak_n=99_000)
    piece = given_certifiable_piece(reel=reel)
    certificate = issued(given_cut_length_draft(piece))
    given_delivery(piece)
    assembly = given_certifiable_assembly()
    return Claims(
        reel=reel,
        check=reel.receiving_checks.get(),
        piece=piece,
        assembly=assembly,
        sample=sample,
        breaking=breaking,
        proof=given_proof_test(assembly=assembly),
        wires=given_wire_test(reel=reel),
        draft=given_assembly_draft(assembly, kind="2.2"),
        certificate=certificate,
        tag=issue_tag(piece=piece, by=given_person(), at=MOMENT),
    )
