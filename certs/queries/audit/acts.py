"""What an entry of each act must bind: the table that the audit holds every entry against.

An act that is missing here is an act nobody knows, and the audit says so.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from django.db import models

from certs.models import (
    AgreedSpecification,
    BreakingTest,
    Certificate,
    DecisionRule,
    Letterhead,
    PaperRenewal,
    ProofTest,
    RecallNotice,
    ReceivingCheck,
    ReelReading,
    Representative,
    SiteReport,
    StrengthBasis,
    Tag,
    TestReversal,
    WireResult,
    WireTest,
)
from certs.rules.roles import ClaimAct
from inventory.models import (
    Assembly,
    AssemblyPiece,
    Calibration,
    CutPiece,
    CutReversal,
    Delivery,
    DeliveryItem,
    FittingLot,
    Heat,
    Hold,
    MillDocument,
    Order,
    OrderLine,
    Party,
    Person,
    Reel,
    ReelHeat,
    SigningKey,
    StoredFile,
    TestingMachine,
)
from inventory.rules.roles import Act

# Thrown away by whoever may draft; it has no row in the tables of roles.
DISCARD_DRAFT: Final = "discard_draft"

# Permissions that no entry is ever written for: reading, and what another act's entry tells.
NEVER_WRITTEN: Final[frozenset[str]] = frozenset(
    {
        Act.READ_RECORD,
        ClaimAct.READ_REPORTS,
        ClaimAct.SUPERSEDE_CERTIFICATE,
        ClaimAct.VALIDATE_DOCUMENT,
    }
)

# At least one row of each of these models is bound by every entry of the act.
WRITES: Final[Mapping[str, tuple[type[models.Model], ...]]] = MappingProxyType(
    {
        Act.REGISTER_PARTY: (Party,),
        Act.CHANGE_PARTY: (Party,),
        Act.RECORD_HEAT: (Heat,),
        Act.FILE_MILL_DOCUMENT: (MillDocument, StoredFile),
        Act.RECEIVE_REEL: (Reel, ReelHeat),
        Act.MOVE_REEL: (Reel,),
        Act.CUT_PIECE: (CutPiece,),
        Act.REVERSE_CUT: (CutPiece, CutReversal),
        Act.REWIND_REEL: (CutPiece, Reel),
        Act.TAKE_BACK_PIECE: (Reel,),
        Act.PLACE_ORDER: (Order, OrderLine),
        Act.RECEIVE_FITTINGS: (FittingLot,),
        Act.BUILD_ASSEMBLY: (Assembly, AssemblyPiece),
        Act.RECORD_DELIVERY: (Delivery, DeliveryItem),
        Act.PLACE_HOLD: (Hold,),
        Act.RELEASE_HOLD: (Hold,),
        Act.REGISTER_MACHINE: (TestingMachine,),
        Act.RECORD_CALIBRATION: (Calibration,),
        Act.MANAGE_PEOPLE: (Person,),
        Act.MANAGE_KEYS: (SigningKey,),
        ClaimAct.ADD_SPECIFICATION: (AgreedSpecification,),
        ClaimAct.NAME_BASIS: (StrengthBasis,),
        ClaimAct.CHECK_REEL: (ReceivingCheck,),
        ClaimAct.READ_REEL: (ReelReading,),
        ClaimAct.CHOOSE_DECISION_RULE: (DecisionRule,),
        ClaimAct.RECORD_BREAKING_TEST: (BreakingTest,),
        ClaimAct.RECORD_PROOF_TEST: (ProofTest, StoredFile),
        ClaimAct.RECORD_WIRE_TEST: (WireTest, WireResult),
        ClaimAct.REVERSE_TEST: (TestReversal,),
        ClaimAct.DRAFT_CERTIFICATE: (Certificate,),
        DISCARD_DRAFT: (Certificate,),
        ClaimAct.ISSUE_CERTIFICATE: (Certificate, StoredFile, Tag),
        ClaimAct.WITHDRAW_CERTIFICATE: (Certificate,),
        ClaimAct.ISSUE_TAG: (Tag,),
        ClaimAct.REVOKE_TAG: (Tag,),
        ClaimAct.REGISTER_REPRESENTATIVE: (Representative,),
        ClaimAct.RENEW_PAPER: (PaperRenewal, StoredFile),
        ClaimAct.WRITE_RECALL: (RecallNotice,),
        ClaimAct.SETTLE_REPORT: (SiteReport,),
        # A bundle only copies what is on record.
        ClaimAct.TAKE_BUNDLE: (),
        ClaimAct.SET_LETTERHEAD: (Letterhead,),
    }
)
