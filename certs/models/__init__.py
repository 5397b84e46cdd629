"""The claims, one noun a file."""

from certs.models.agreed_specification import AgreedSpecification, StrengthBasis
from certs.models.breaking_test import BreakingTest
from certs.models.certificate import Certificate, CertificatePiece, CertificateProofTest
from certs.models.proof_test import ProofTest
from certs.models.representative import Representative
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

__all__ = [
    "AgreedSpecification",
    "BreakingTest",
    "Certificate",
    "CertificatePiece",
    "CertificateProofTest",
    "DiameterTolerance",
    "ForceFactor",
    "GradeName",
    "MachineClass",
    "ProofLoadRule",
    "ProofTest",
    "Representative",
    "SlingLegFactor",
    "SlingLoad",
    "SteelLimits",
    "StrengthBasis",
    "TabulatedForce",
    "Tag",
    "TerminationEfficiency",
    "TestReversal",
    "WireBand",
]
