import pytest

from inventory.models import (
    Checkpoint,
    CutReversal,
    FittingUse,
    JournalEntry,
    JournalHead,
    MerkleNode,
    OrderLine,
    Person,
    Preference,
    Reel,
    ReelHeat,
    SentForm,
    SigningKey,
    StoredFile,
    Termination,
)
from inventory.services.cut import reverse_cut
from tests.factories import (
    MOMENT,
    given_assembly,
    given_delivery,
    given_fitting_lot,
    given_heat,
    given_hold,
    given_machine,
    given_mill_document,
    given_order,
    given_person,
    given_piece,
    given_reel,
)


@pytest.fixture
def world(db):
    """One row of every model of the physical record, by its name; and a few more."""
    heat = given_heat()
    document = given_mill_document()
    reel = given_reel(heats=[heat], mill_document=document)
    piece = given_piece(reel=reel)
    wrong = given_piece(reel=reel)
    reverse_cut(cut=wrong, reason="cut on paper only", by=given_person(), at=MOMENT)
    machine = given_machine()
    assembly = given_assembly(pieces=[piece], lot=given_fitting_lot(heat=heat))
    delivery = given_delivery(assembly)
    rows = [heat, document, reel, piece, machine, assembly, delivery, given_hold(reel)]
    rows += [given_order(), reel.mill, given_person()]
    rows.append(Preference.objects.create(person=given_person()))
    rows += [assembly.piece_ties.get(), delivery.items.get(), machine.calibrations.get()]
    made = (CutReversal, FittingUse, JournalEntry, JournalHead, OrderLine, ReelHeat, StoredFile)
    rows += [model.objects.first() for model in (*made, Termination)]
    key = SigningKey.objects.create(
        purpose="log",
        name="log-of-the-test",
        public_key="AAAA",
        is_evaluation=True,
        added_at=MOMENT,
        added_by=given_person(),
    )
    rows += [key, MerkleNode.objects.create(level=60, index=0, hash="0" * 64)]
    rows.append(
        Checkpoint.objects.create(size=9, root="0" * 64, note="note", key=key, made_at=MOMENT)
    )
    rows.append(SentForm.objects.create(token="t" * 43, sent_at=MOMENT))
    world = {type(row).__name__: row for row in rows}
    world["FittingLot"] = world["FittingUse"].lot
    world["spare_reel"] = Reel.objects.get(pk=given_reel().pk)
    return world


@pytest.fixture
def spare_piece(world):
    return given_piece(reel=world["spare_reel"])


@pytest.fixture
def someone(db) -> Person:
    return given_person()
