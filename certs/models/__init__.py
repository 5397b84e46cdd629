"""The claims, one noun a file."""

from certs.models.agreed_specification import AgreedSpecification, StrengthBasis
from certs.models.breaking_test import BreakingTest
from certs.models.certificate import Certificate, CertificatePiece, CertificateProofTest
from certs.models.decision_rule import DecisionRule
from certs.models.issue_batch import IssueBatch, IssueBatchLine
from certs.models.letterhead import Letterhead
from certs.models.paper_renewal import PaperRenewal
from certs.models.proof_test import ProofTest
from certs.models.recall_notice import RecallNotice
from certs.models.receiving_check import ReceivingCheck
from certs.models.reel_reading import ReelReading
from certs.models.representative import Representative
from certs.models.site_report import SitePhoto, SiteReport
from certs.models.specification import (
    DiameterTolerance,
    ForceFactor,
    GradeName,
    MachineClass,
    ProofLoadRule,
    SlingLegFactor,
    SlingLoad,
    SteelLimits,
    TabulatedForce,
    TerminationEfficiency,
    WireBand,
)
from certs.models.tag import Tag
from certs.models.test_reversal import TestReversal
from certs.models.wire_test import WireResult, WireTest

__all__ = [
    "AgreedSpecification",
    "BreakingTest",
    "Certificate",
    "CertificatePiece",
    "CertificateProofTest",
    "DecisionRule",
    "DiameterTolerance",
    "ForceFactor",
    "GradeName",
    "IssueBatch",
    "IssueBatchLine",
    "Letterhead",
    "MachineClass",
    "PaperRenewal",
    "ProofLoadRule",
    "ProofTest",
    "RecallNotice",
    "ReceivingCheck",
    "ReelReading",
    "Representative",
    "SitePhoto",
    "SiteReport",
    "SlingLegFactor",
    "SlingLoad",
    "SteelLimits",
    "StrengthBasis",
    "TabulatedForce",
    "Tag",
    "TerminationEfficiency",
    "TestReversal",
    "WireBand",
    "WireResult",
    "WireTest",
]
