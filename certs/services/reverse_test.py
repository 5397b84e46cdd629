"""Takes back a test that was recorded wrongly, by an entry that names it.

The test stays readable; from then on it neither lowers a force nor supports a paper.
"""

from datetime import datetime

from django.db import transaction
from django.db.models import QuerySet

from certs.models import BreakingTest, Certificate, ProofTest, TestReversal, WireTest
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.services.guarded import add_row
from inventory.services.journal import append, text_hash

Test = BreakingTest | ProofTest | WireTest


class CannotReverseTest(Refusal):
    """The test cannot be taken back."""


def reverse_test(*, test: Test, reason: str, by: Person, at: datetime) -> TestReversal:
    """Take back a test: it was never made so, or was entered for the wrong thing.

    A test that was made and failed is no wrong entry; what it says of the rope stands.

    Raises:
        NotAllowed: the person's role reverses no tests.
        CannotReverseTest: no reason, reversed already, or a certificate in force rests on it.
    """
    require(by=by, act=ClaimAct.REVERSE_TEST)
    if not reason.strip():
        raise CannotReverseTest("Say what was wrong with the entry.", field="reason")
    with transaction.atomic():
        # Not `lock_row`: the key is locked too, so that no paper comes to rest on it meanwhile.
        locked = type(test).objects.select_for_update(of=("self",)).get(pk=test.pk)
        _check_not_reversed(locked)
        _check_unused(locked)
        reversal = TestReversal(
            breaking_test=locked if isinstance(locked, BreakingTest) else None,
            proof_test=locked if isinstance(locked, ProofTest) else None,
            wire_test=locked if isinstance(locked, WireTest) else None,
            reason=reason.strip(),
            reversed_at=at,
            reversed_by=by,
        )
        add_row(reversal, refusal=CannotReverseTest)
        append(
            at=at,
            by=by,
            act=ClaimAct.REVERSE_TEST,
            subject=locked.code,
            detail={"outcome": locked.outcome, "reason_sha256": text_hash(reversal.reason)},
            rows=[reversal],
        )
        # The journal's head is ours now: a paper issued meanwhile is seen here, and one that is
        # issued from now on sees the reversal.
        _check_unused(locked)
    return reversal


def _check_not_reversed(test: Test) -> None:
    if _reversals(test).exists():
        raise CannotReverseTest(f"{test.code} is reversed already.")


def _reversals(test: Test) -> QuerySet[TestReversal]:
    if isinstance(test, BreakingTest):
        return TestReversal.objects.filter(breaking_test=test)
    if isinstance(test, WireTest):
        return TestReversal.objects.filter(wire_test=test)
    return TestReversal.objects.filter(proof_test=test)


def _check_unused(test: Test) -> None:
    """Refuse while a certificate in force rests on the test, and name it."""
    issued = Certificate.objects.filter(state=Certificate.State.ISSUED)
    if isinstance(test, BreakingTest):
        papers = issued.filter(breaking_test=test)
    elif isinstance(test, WireTest):
        # No row ties it to a paper: its code stands in the frozen content.
        papers = issued.filter(snapshot__contains=f'"code":"{test.code}"')
    else:
        papers = issued.filter(proof_test_ties__proof_test=test)
    numbers = ", ".join(
        str(number) for number in papers.order_by("id").values_list("number", flat=True)
    )
    if numbers:
        message = f"Certificate {numbers} rests on {test.code}: withdraw it first."
        raise CannotReverseTest(message)
