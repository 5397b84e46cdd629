"""Who may do what to the claims: tests, certificates, tags and what they rest on.

Acts upon the physical record are decided in the inventory's own table.
"""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from inventory.rules.roles import Role


class ClaimAct(StrEnum):
    """Everything that can be done to the record of what is claimed."""

    ADD_SPECIFICATION = "add_specification"
    NAME_BASIS = "name_basis"
    CHECK_REEL = "check_reel"
    READ_REEL = "read_reel"
    CHOOSE_DECISION_RULE = "choose_decision_rule"
    RECORD_BREAKING_TEST = "record_breaking_test"
    RECORD_PROOF_TEST = "record_proof_test"
    RECORD_WIRE_TEST = "record_wire_test"
    REVERSE_TEST = "reverse_test"
    DRAFT_CERTIFICATE = "draft_certificate"
    ISSUE_CERTIFICATE = "issue_certificate"
    SUPERSEDE_CERTIFICATE = "supersede_certificate"
    WITHDRAW_CERTIFICATE = "withdraw_certificate"
    ISSUE_TAG = "issue_tag"
    REVOKE_TAG = "revoke_tag"
    REGISTER_REPRESENTATIVE = "register_representative"
    VALIDATE_DOCUMENT = "validate_document"
    RENEW_PAPER = "renew_paper"
    WRITE_RECALL = "write_recall"
    READ_REPORTS = "read_reports"
    SETTLE_REPORT = "settle_report"
    TAKE_BUNDLE = "take_bundle"
    SET_LETTERHEAD = "set_letterhead"


_QA: Final = frozenset({Role.QA_OFFICER})
_TESTING: Final = frozenset({Role.TEST_BENCH, Role.QA_OFFICER})

# The register of representatives is kept by someone who issues nothing himself, so that nobody
# can appoint the person who validates his own certificate.
ALLOWED: Final[Mapping[ClaimAct, frozenset[Role]]] = MappingProxyType(
    {
        ClaimAct.ADD_SPECIFICATION: _QA,
        ClaimAct.NAME_BASIS: _QA,
        ClaimAct.CHECK_REEL: _QA | {Role.STORES},
        ClaimAct.READ_REEL: _TESTING | {Role.STORES},
        ClaimAct.CHOOSE_DECISION_RULE: _QA,
        ClaimAct.RECORD_BREAKING_TEST: _TESTING,
        ClaimAct.RECORD_PROOF_TEST: _TESTING,
        ClaimAct.RECORD_WIRE_TEST: _TESTING,
        ClaimAct.REVERSE_TEST: _QA,
        ClaimAct.DRAFT_CERTIFICATE: _QA,
        ClaimAct.ISSUE_CERTIFICATE: _QA,
        ClaimAct.SUPERSEDE_CERTIFICATE: _QA,
        ClaimAct.WITHDRAW_CERTIFICATE: _QA,
        ClaimAct.ISSUE_TAG: _QA | {Role.STORES},
        ClaimAct.REVOKE_TAG: _QA,
        ClaimAct.REGISTER_REPRESENTATIVE: frozenset({Role.ADMINISTRATOR}),
        ClaimAct.VALIDATE_DOCUMENT: _QA | {Role.INSPECTION_REPRESENTATIVE},
        ClaimAct.RENEW_PAPER: _QA | {Role.ADMINISTRATOR},
        ClaimAct.WRITE_RECALL: _QA,
        # A report may name its reporter, so not everyone of the house reads it.
        ClaimAct.READ_REPORTS: _QA | {Role.AUDITOR},
        ClaimAct.SETTLE_REPORT: _QA,
        ClaimAct.TAKE_BUNDLE: _QA | {Role.AUDITOR},
        ClaimAct.SET_LETTERHEAD: frozenset({Role.ADMINISTRATOR}),
    }
)


def may(role: Role, act: ClaimAct) -> bool:
    """Tell whether a person of this role may do this act."""
    return role in ALLOWED[act]
