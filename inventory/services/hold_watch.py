"""Sees to it that no act gets past a hold that is placed while the act is under way.

Acts lock what they take, a hold locks what it is on, and the two may be far apart in the
genealogy. What they share is the journal: whoever has its head sees every hold that stands in it
before him. So an act looks at the holds first and, if one was placed meanwhile, again at the end.
"""

from collections.abc import Callable, Iterator
from contextlib import contextmanager

from inventory.services.locks import require_transaction
from inventory.services.numbering import HOLD, next_number


@contextmanager
def no_hold_meanwhile(check: Callable[[], None]) -> Iterator[None]:
    """Run `check`, then the act, which ends with its journal entry; check again at need.

    `check` raises a refusal when something is under hold; the act's transaction then undoes it.
    """
    require_transaction()
    seen = next_number(HOLD)
    check()
    yield
    if next_number(HOLD) != seen:
        check()
