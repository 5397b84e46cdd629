"""What the database refuses reaches the reader as a sentence, on both engines the same."""

from types import SimpleNamespace

import pytest
from django.db import IntegrityError

from inventory.models import CutPiece, Party
from inventory.rules.refusal import Refusal
from inventory.services.guarded import add_row, guarded, sentence_of
from tests.factories import MOMENT, given_heat, given_hold, given_mill, given_piece, given_reel
from tests.inventory.models.ways import copy_of

pytestmark = pytest.mark.django_db


class CannotDo(Refusal):
    pass


SENTENCES = {
    "a guard": (
        lambda: copy_of(given_piece(), from_mm=999_000, to_mm=1_000_001),
        "The cut would pass the end of the reel.",
    ),
    "the guard of the metres": (
        lambda: copy_of(given_piece(), from_mm=9_999, to_mm=10_001),
        "These metres have left the reel already.",
    ),
    "a check with a sentence": (
        lambda: copy_of(given_piece(), from_mm=20_000, to_mm=30_000, ordered_length_mm=9_000),
        "The length cut is outside its tolerance.",
    ),
    "a check without one": (
        lambda: copy_of(given_hold(given_reel()), heat=given_heat()),
        "This breaks a rule of the record: hold has one subject.",
    ),
    "a unique with a sentence": (
        lambda: copy_of(given_heat()),
        "This mill's heat is recorded already.",
    ),
    "a unique under a condition": (
        lambda: copy_of(given_reel().heat_ties.get()),
        "This breaks a rule of the record: reel heat tied once whole.",
    ),
}


@pytest.mark.parametrize(("row", "sentence"), list(SENTENCES.values()), ids=SENTENCES)
def test_a_refused_row_is_refused_in_words(row, sentence):
    copy = row()
    count = type(copy).objects.count()
    with pytest.raises(CannotDo) as refused:
        add_row(copy, refusal=CannotDo)
    assert refused.value.message == sentence
    assert type(copy).objects.count() == count


def test_a_field_is_refused_by_its_name():
    party = Party(code="M-1", kind="mill", name="", registered_at=MOMENT)
    with pytest.raises(CannotDo, match=r"^Name: ") as refused:
        add_row(party, refusal=CannotDo)
    assert refused.value.field == "name"


@pytest.mark.parametrize(
    "mistake",
    [
        lambda: copy_of(given_mill(), name="Another", code="M-00001").save(),
        lambda: CutPiece.objects.create(code="Z", from_mm=0, to_mm=1, reel_id=None),
    ],
    ids=["a code given out twice", "a column left empty"],
)
def test_a_mistake_of_ours_is_no_refusal(mistake):
    given_mill()
    with pytest.raises(IntegrityError), guarded(CannotDo):
        mistake()


class FromPostgresql(Exception):  # noqa: N818 -- shaped like the driver's own
    def __init__(self, constraint_name):
        super().__init__("violates a constraint")
        self.diag = SimpleNamespace(constraint_name=constraint_name)


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("heat_number_once_per_mill", "This mill's heat is recorded already."),
        ("cut_pieces_never_overlap", "These metres have left the reel already."),
        ("inventory_party_code_key", None),
    ],
)
def test_postgresql_names_the_constraint(name, sentence):
    error = IntegrityError("violates a constraint")
    error.__cause__ = FromPostgresql(name)
    assert sentence_of(error) == sentence


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            "UNIQUE constraint failed: inventory_heat.mill_id, inventory_heat.number",
            "This mill's heat is recorded already.",
        ),
        (
            "CHECK constraint failed: cut_piece_within_tolerance",
            "The length cut is outside its tolerance.",
        ),
        ("UNIQUE constraint failed: inventory_party.code", None),
        ("NOT NULL constraint failed: inventory_party.code", None),
    ],
)
def test_sqlite_tells_by_text(text, sentence):
    assert sentence_of(IntegrityError(text)) == sentence
