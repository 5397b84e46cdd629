"""The guards of the physical record: the metre ledger and what is never changed.

`GUARDS` is the whole list; migrations put it up and a system check looks that it stands.
"""

from inventory.models.assembly import Assembly, AssemblyPiece, FittingUse, Termination
from inventory.models.checkpoint import Checkpoint
from inventory.models.cut import CutPiece, CutReversal
from inventory.models.delivery import Delivery, DeliveryItem
from inventory.models.fitting import FittingLot
from inventory.models.guards import Guard, keeps, trigger
from inventory.models.heat import Heat
from inventory.models.hold import Hold
from inventory.models.journal import JournalEntry
from inventory.models.merkle_node import MerkleNode
from inventory.models.mill_document import MillDocument
from inventory.models.order import Order, OrderLine
from inventory.models.reel import Reel, ReelHeat
from inventory.models.signing_key import SigningKey
from inventory.models.stored_file import StoredFile
from inventory.models.testing_machine import Calibration

OVERLAP = "cut_pieces_never_overlap"
CUT = "inventory_cutpiece"
REEL = "inventory_reel"

_OVERLAPS = f"""NOT NEW.is_reversed AND EXISTS (
    SELECT 1 FROM {CUT} other
    WHERE other.reel_id = NEW.reel_id AND NOT other.is_reversed AND other.id IS NOT NEW.id
      AND other.from_mm < NEW.to_mm AND other.to_mm > NEW.from_mm)"""


def _overlap_trigger(event: str) -> str:
    text = f"guard {OVERLAP}: these metres have left the reel already"
    return (
        f"CREATE TRIGGER {OVERLAP}_{event.lower()} BEFORE {event} ON {CUT} FOR EACH ROW "
        f"WHEN {_OVERLAPS} BEGIN SELECT RAISE(ABORT, '{text}'); END"
    )


NO_OVERLAP = Guard(
    name=OVERLAP,
    # A range of one id stands for equality, so that no extension is needed.
    postgresql=(
        (
            f"ALTER TABLE {CUT} ADD CONSTRAINT {OVERLAP} EXCLUDE USING gist ("
            "int8range(reel_id, reel_id, '[]') WITH &&, int8range(from_mm, to_mm) WITH &&"
            ") WHERE (NOT is_reversed)"
        ),
    ),
    sqlite=(_overlap_trigger("INSERT"), _overlap_trigger("UPDATE")),
    postgresql_down=(f"ALTER TABLE {CUT} DROP CONSTRAINT IF EXISTS {OVERLAP}",),
    sqlite_down=(
        f"DROP TRIGGER IF EXISTS {OVERLAP}_insert",
        f"DROP TRIGGER IF EXISTS {OVERLAP}_update",
    ),
)

WITHIN_REEL = trigger(
    name="cut_piece_within_its_reel",
    table=CUT,
    event="INSERT",
    lock=f"PERFORM 1 FROM {REEL} WHERE id = NEW.reel_id FOR SHARE;",
    refuse_when=f"NEW.to_mm > (SELECT length_mm FROM {REEL} WHERE id = NEW.reel_id)",
    sentence="the cut would pass the end of the reel",
)

WOUND_FROM_ITS_CUT = trigger(
    name="reel_is_wound_from_its_cut",
    table=REEL,
    event="INSERT",
    lock=f"PERFORM 1 FROM {CUT} WHERE id = NEW.wound_from_id FOR SHARE;",
    refuse_when=f"""NEW.wound_from_id IS NOT NULL AND NOT EXISTS (
        SELECT 1 FROM {CUT} c WHERE c.id = NEW.wound_from_id AND NOT c.is_reversed
          AND c.from_mm <= NEW.origin_from_mm AND c.to_mm >= NEW.origin_to_mm
          AND ((NEW.origin = 'rewind' AND c.purpose = 'rewind'
                AND c.from_mm = NEW.origin_from_mm AND c.to_mm = NEW.origin_to_mm)
            OR (NEW.origin = 'return' AND c.purpose = 'supply')))""",
    sentence="a reel holds just the metres of the cut piece that it was wound from",
)

# A piece that something was made of stays cut.
REVERSED_ONLY_IF_UNUSED = trigger(
    name="cut_piece_in_use_is_not_reversed",
    table=CUT,
    event="UPDATE",
    refuse_when=f"""NEW.is_reversed AND NOT OLD.is_reversed AND (
        EXISTS (SELECT 1 FROM {REEL} r WHERE r.wound_from_id = NEW.id)
        OR EXISTS (SELECT 1 FROM inventory_assemblypiece a WHERE a.piece_id = NEW.id)
        OR EXISTS (SELECT 1 FROM inventory_deliveryitem d WHERE d.piece_id = NEW.id))""",
    sentence="something was made of this piece or it was delivered: it cannot be reversed",
)

NEVER_UNREVERSED = trigger(
    name="cut_reversal_stands",
    table=CUT,
    event="UPDATE",
    refuse_when="OLD.is_reversed AND NOT NEW.is_reversed",
    sentence="a reversed cut stays reversed; record the cut anew",
)

GUARDS: tuple[Guard, ...] = (
    NO_OVERLAP,
    WITHIN_REEL,
    WOUND_FROM_ITS_CUT,
    REVERSED_ONLY_IF_UNUSED,
    NEVER_UNREVERSED,
    trigger(
        name="hold_is_released_once",
        table="inventory_hold",
        event="UPDATE",
        refuse_when="OLD.released_at IS NOT NULL",
        sentence="a released hold is never changed; place a new one",
    ),
    trigger(
        name="signing_key_ends_once",
        table="inventory_signingkey",
        event="UPDATE",
        refuse_when="OLD.revoked_at IS NOT NULL",
        sentence="a revoked key stays revoked; make another",
    ),
    trigger(
        name="number_series_only_counts_up",
        table="inventory_numberseries",
        event="UPDATE",
        refuse_when="NEW.last <> OLD.last + 1 OR NEW.series <> OLD.series",
        sentence="a number series takes the next number, and no other",
    ),
    trigger(
        name="journal_head_only_moves_on",
        table="inventory_journalhead",
        event="UPDATE",
        refuse_when="NEW.size <> OLD.size + 1",
        sentence="the journal grows by one entry at a time",
    ),
    *keeps(CutPiece, mutable=["is_reversed"]),
    *keeps(Hold, mutable=["released_at", "released_by_id", "release_reason"]),
    *keeps(Reel, mutable=["location"]),
    *keeps(SigningKey, mutable=["retired_at", "revoked_at", "revoke_reason"]),
    *(
        guard
        for model in (
            Assembly,
            AssemblyPiece,
            Calibration,
            Checkpoint,
            CutReversal,
            Delivery,
            DeliveryItem,
            FittingLot,
            FittingUse,
            Heat,
            JournalEntry,
            MerkleNode,
            MillDocument,
            Order,
            OrderLine,
            ReelHeat,
            StoredFile,
            Termination,
        )
        for guard in keeps(model)
    ),
)
