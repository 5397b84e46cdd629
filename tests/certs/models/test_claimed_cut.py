"""A cut that a claim names stays cut, though the physical record does not know of claims."""

import pytest

from certs.models import Certificate, CertificatePiece, Tag
from inventory.models import CutPiece
from inventory.services.cut import CannotCut, reverse_cut
from tests.certs.claims import given_basis, given_breaking_test
from tests.factories import MOMENT, given_person, given_piece, given_reel, given_sample
from tests.inventory.models.ways import UPDATES, refused_by

pytestmark = pytest.mark.usefixtures("tables")

GUARD = "cut_piece_with_claims_is_not_reversed"


def named_by_a_test():
    reel = given_reel()
    given_basis(reel)
    return given_breaking_test(sample=given_sample(reel=reel), peak_n=99_000).sample


def named_by_a_tag():
    piece = given_piece()
    Tag.objects.create(code="A" * 16, piece=piece, issued_at=MOMENT, issued_by=given_person())
    return piece


def named_by_a_draft():
    piece = given_piece()
    draft = Certificate.objects.create(
        draft_code="CD-00001",
        kind="cut_length",
        document_kind="statement",
        drafted_at=MOMENT,
        drafted_by=given_person(),
    )
    CertificatePiece.objects.create(certificate=draft, piece=piece, position=1)
    return piece


NAMED = [named_by_a_test, named_by_a_tag, named_by_a_draft]


@pytest.mark.parametrize("change", UPDATES)
@pytest.mark.parametrize("named", NAMED)
def test_a_claimed_cut_is_not_reversed(named, change):
    with refused_by(GUARD):
        change(named(), "is_reversed", True)  # noqa: FBT003 -- the column's value


@pytest.mark.parametrize("named", NAMED)
def test_the_service_says_why(named):
    piece = named()
    with pytest.raises(CannotCut, match="A test, a certificate or a tag names this piece"):
        reverse_cut(cut=piece, reason="slip", by=given_person(), at=MOMENT)
    assert not CutPiece.objects.get(pk=piece.pk).is_reversed
