"""The guards of the claims: what was tested, named and issued is never changed.

`GUARDS` is the whole list; migrations put it up and a system check looks that it stands.
"""

from certs.models.agreed_specification import AgreedSpecification, StrengthBasis
from certs.models.breaking_test import BreakingTest
from certs.models.certificate import Certificate, CertificatePiece, CertificateProofTest
from certs.models.decision_rule import DecisionRule
from certs.models.letterhead import Letterhead
from certs.models.paper_renewal import PaperRenewal
from certs.models.proof_test import ProofTest
from certs.models.recall_notice import RecallNotice
from certs.models.receiving_check import ReceivingCheck
from certs.models.reel_reading import ReelReading
from certs.models.site_report import SitePhoto, SiteReport
from certs.models.tag import Tag
from certs.models.test_reversal import TestReversal
from certs.models.wire_test import WireResult, WireTest
from inventory.models.guards import Guard, keeps, trigger

CERTIFICATE = "certs_certificate"
UNDER = "certs_certificateprooftest"
REVERSAL = "certs_testreversal"
SENDING = ["sent_at", "sent_by_id", "sent_how"]
ANSWER = [
    "acknowledged_at",
    "acknowledged_by",
    "acknowledgement",
    "acknowledgement_recorded_by_id",
]
ENDING = ["state", "ended_at", "ended_by_id", "end_reason"]


def _ties_are_frozen(table: str) -> tuple[Guard, ...]:
    """What a certificate speaks of is fixed with it."""

    def of_a_draft(row: str) -> str:
        return f"(SELECT state FROM {CERTIFICATE} c WHERE c.id = {row}.certificate_id) <> 'draft'"

    sentence = "the certificate is issued: what it speaks of is never changed"
    return (
        trigger(
            name=f"{table}_is_not_added",
            table=table,
            event="INSERT",
            refuse_when=of_a_draft("NEW"),
            sentence=sentence,
        ),
        trigger(
            name=f"{table}_is_not_moved",
            table=table,
            event="UPDATE",
            refuse_when=f"{of_a_draft('OLD')} OR {of_a_draft('NEW')}",
            sentence=sentence,
        ),
        trigger(
            name=f"{table}_is_not_removed",
            table=table,
            event="DELETE",
            refuse_when=of_a_draft("OLD"),
            sentence=sentence,
        ),
    )


LIFE = trigger(
    name="certificate_life_moves_forward",
    table=CERTIFICATE,
    event="UPDATE",
    refuse_when="""OLD.state <> NEW.state AND NOT (
        (OLD.state = 'draft' AND NEW.state = 'issued')
        OR (OLD.state = 'issued' AND NEW.state IN ('superseded', 'withdrawn')))""",
    sentence="a certificate goes from draft to issued, then to superseded or withdrawn",
)

ENDED = trigger(
    name="certificate_end_is_final",
    table=CERTIFICATE,
    event="UPDATE",
    refuse_when="OLD.state IN ('superseded', 'withdrawn')",
    sentence="a superseded or withdrawn certificate is never changed",
)

REVOKED_ONCE = trigger(
    name="tag_is_revoked_once",
    table="certs_tag",
    event="UPDATE",
    refuse_when="OLD.revoked_at IS NOT NULL",
    sentence="a revoked tag stays revoked; issue another",
)

SENT_ONCE = trigger(
    name="recall_notice_is_sent_once",
    table="certs_recallnotice",
    event="UPDATE",
    refuse_when="OLD.sent_at IS NOT NULL AND OLD.sent_at <> NEW.sent_at",
    sentence="a sent notice stays sent; write another",
)

ANSWERED_ONCE = trigger(
    name="recall_notice_is_answered_once",
    table="certs_recallnotice",
    event="UPDATE",
    refuse_when="OLD.acknowledged_at IS NOT NULL",
    sentence="an acknowledged notice is never changed",
)

CLOSED_ONCE = trigger(
    name="site_report_is_closed_once",
    table="certs_sitereport",
    event="UPDATE",
    # Only the contact may be forgotten later.
    refuse_when="""OLD.closed_at IS NOT NULL AND NOT (
        NEW.closed_at = OLD.closed_at AND NEW.close_reason = OLD.close_reason
        AND NEW.contact = '')""",
    sentence="a closed report stays closed",
)

# The physical record knows nothing of claims; so the claims guard the cut that they speak of.
CLAIMED_CUT_STANDS = trigger(
    name="cut_piece_with_claims_is_not_reversed",
    table="inventory_cutpiece",
    event="UPDATE",
    refuse_when="""NEW.is_reversed AND NOT OLD.is_reversed AND (
        EXISTS (SELECT 1 FROM certs_breakingtest b WHERE b.sample_id = NEW.id)
        OR EXISTS (SELECT 1 FROM certs_wiretest w WHERE w.sample_id = NEW.id)
        OR EXISTS (SELECT 1 FROM certs_certificatepiece p WHERE p.piece_id = NEW.id)
        OR EXISTS (SELECT 1 FROM certs_tag t WHERE t.piece_id = NEW.id))""",
    sentence="a test, a certificate or a tag names this piece: its cut cannot be reversed",
)

# Issuing and reversing each lock the test first, so that one of them sees what the other did.
TEST_IN_USE_STANDS = trigger(
    name="test_under_a_certificate_is_not_reversed",
    table=REVERSAL,
    event="INSERT",
    lock="""PERFORM 1 FROM certs_prooftest WHERE id = NEW.proof_test_id FOR UPDATE;
            PERFORM 1 FROM certs_breakingtest WHERE id = NEW.breaking_test_id FOR UPDATE;""",
    refuse_when=f"""EXISTS (SELECT 1 FROM {CERTIFICATE} c WHERE c.state = 'issued' AND (
        c.breaking_test_id = NEW.breaking_test_id
        OR c.id IN (SELECT u.certificate_id FROM {UNDER} u
                    WHERE u.proof_test_id = NEW.proof_test_id)))""",
    sentence="a certificate in force rests on this test: withdraw it first",
)

PROOF_TEST_COUNTS = trigger(
    name="certificate_rests_on_no_reversed_proof_test",
    table=UNDER,
    event="INSERT",
    lock="PERFORM 1 FROM certs_prooftest WHERE id = NEW.proof_test_id FOR UPDATE;",
    refuse_when=f"EXISTS (SELECT 1 FROM {REVERSAL} r WHERE r.proof_test_id = NEW.proof_test_id)",
    sentence="this test was reversed: no certificate rests on it",
)

BREAKING_TEST_COUNTS = trigger(
    name="certificate_reports_no_reversed_breaking_test",
    table=CERTIFICATE,
    event="UPDATE",
    lock="PERFORM 1 FROM certs_breakingtest WHERE id = NEW.breaking_test_id FOR UPDATE;",
    refuse_when=f"""OLD.state = 'draft' AND NEW.state = 'issued' AND EXISTS (
        SELECT 1 FROM {REVERSAL} r WHERE r.breaking_test_id = NEW.breaking_test_id)""",
    sentence="this test was reversed: no report of it is issued",
)

GUARDS: tuple[Guard, ...] = (
    LIFE,
    ENDED,
    REVOKED_ONCE,
    SENT_ONCE,
    ANSWERED_ONCE,
    CLOSED_ONCE,
    CLAIMED_CUT_STANDS,
    TEST_IN_USE_STANDS,
    PROOF_TEST_COUNTS,
    BREAKING_TEST_COUNTS,
    *keeps(Certificate, mutable=ENDING, when="OLD.state <> 'draft'"),
    *_ties_are_frozen(CertificatePiece._meta.db_table),
    *_ties_are_frozen(CertificateProofTest._meta.db_table),
    *keeps(Tag, mutable=["revoked_at", "revoked_by_id", "revoke_reason"]),
    *keeps(RecallNotice, mutable=[*SENDING, *ANSWER]),
    *keeps(SiteReport, mutable=["contact", "hold_id", "closed_at", "closed_by_id", "close_reason"]),
    *(
        guard
        for model in (
            AgreedSpecification,
            BreakingTest,
            DecisionRule,
            Letterhead,
            PaperRenewal,
            ProofTest,
            ReceivingCheck,
            ReelReading,
            SitePhoto,
            StrengthBasis,
            TestReversal,
            WireResult,
            WireTest,
        )
        for guard in keeps(model)
    ),
)
