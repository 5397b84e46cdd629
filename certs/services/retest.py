"""Ties a breaking-force test to the discounted one that it repeats.

What may be repeated, and on what, is decided by `certs.rules.breaking_record`; here it is looked up
under lock.
"""

from datetime import datetime

from certs.models import BreakingTest
from certs.queries.breaking_records import as_on_record
from certs.queries.evidence import reversal_of
from certs.queries.rope_tests import tests_on_rope
from certs.rules.breaking_record import CannotRepeat, check_repeat
from certs.services.test_evidence import CannotRecord
from inventory.models import CutPiece
from inventory.services.locks import lock_row


def tie_retest(
    repeated: BreakingTest | None, *, sample: CutPiece, tested_at: datetime
) -> BreakingTest | None:
    """Give the discounted test that a test on this sample repeats, locked; None stays None.

    Call it within the transaction of the recording. Raises CannotRecord where the one named was
    not discounted, was reversed, is on other rope, or has a retest already.
    """
    if repeated is None:
        return None
    locked = lock_row(repeated)
    _check_counts(locked)
    family = {tested.test.pk for tested in tests_on_rope(sample.reel)}
    try:
        check_repeat(
            repeated=as_on_record(locked),
            of_same_reel=locked.pk in family,
            sample=sample.code,
            at=tested_at,
        )
    except CannotRepeat as refusal:
        raise CannotRecord(refusal.message, field=refusal.field) from refusal
    return locked


def _check_counts(repeated: BreakingTest) -> None:
    if reversal_of(repeated) is not None:
        message = f"{repeated.code} was reversed: there is nothing to repeat."
        raise CannotRecord(message, field="retest_of")
    earlier = BreakingTest.objects.filter(retest_of=repeated).first()
    if earlier is not None:
        message = (
            f"{earlier.code} is on record as the retest of {repeated.code} already. Record this"
            " test without naming one: a later pass on another sample settles it too."
        )
        raise CannotRecord(message, field="retest_of")
