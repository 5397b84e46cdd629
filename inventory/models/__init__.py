"""The physical record, one noun a file."""

from inventory.models.assembly import Assembly, AssemblyPiece, FittingUse, Termination
from inventory.models.checkpoint import Checkpoint
from inventory.models.cut import CutPiece, CutReversal
from inventory.models.delivery import Delivery, DeliveryItem
from inventory.models.fitting import FittingLot
from inventory.models.heat import Heat
from inventory.models.hold import Hold
from inventory.models.journal import JournalEntry, JournalHead, NumberSeries
from inventory.models.merkle_node import MerkleNode
from inventory.models.mill_document import MillDocument
from inventory.models.order import Order, OrderLine
from inventory.models.party import Party
from inventory.models.person import Person
from inventory.models.preference import Preference
from inventory.models.reel import Reel, ReelHeat
from inventory.models.sent_form import SentForm
from inventory.models.signing_key import SigningKey
from inventory.models.stored_file import StoredFile
from inventory.models.testing_machine import Calibration, TestingMachine

__all__ = [
    "Assembly",
    "AssemblyPiece",
    "Calibration",
    "Checkpoint",
    "CutPiece",
    "CutReversal",
    "Delivery",
    "DeliveryItem",
    "FittingLot",
    "FittingUse",
    "Heat",
    "Hold",
    "JournalEntry",
    "JournalHead",
    "MerkleNode",
    "MillDocument",
    "NumberSeries",
    "Order",
    "OrderLine",
    "Party",
    "Person",
    "Preference",
    "Reel",
    "ReelHeat",
    "SentForm",
    "SigningKey",
    "StoredFile",
    "Termination",
    "TestingMachine",
]
