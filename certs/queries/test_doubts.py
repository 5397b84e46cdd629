"""What puts a test in doubt, whatever its kind.

Which tests speak of a reel's rope, and what they say, is decided by `rope_tests` and `wire_tests`.
"""

from collections.abc import Iterable

from certs.models import BreakingTest, WireTest
from inventory.models import Hold


def doubts_of(tests: Iterable[BreakingTest | WireTest]) -> list[tuple[str, ...]]:
    """Say of each test, in the order given, why its machine is in doubt; nothing where it is not.

    One query. A wire test of the maker's own paper names no machine.
    """
    listed = list(tests)
    holds = _holds_by_machine({test.machine_id for test in listed if test.machine_id})
    return [_doubts(test, holds) for test in listed]


def _holds_by_machine(machine_ids: set[int]) -> dict[int | None, list[str]]:
    found: dict[int | None, list[str]] = {}
    standing = Hold.objects.filter(testing_machine_id__in=machine_ids, released_at=None)
    for machine_id, code in standing.order_by("id").values_list("testing_machine_id", "code"):
        found.setdefault(machine_id, []).append(code)
    return found


def _doubts(test: BreakingTest | WireTest, holds: dict[int | None, list[str]]) -> tuple[str, ...]:
    held = (
        f"Testing machine {test.machine.code} is under hold {code}."
        for code in holds.get(test.machine_id, [])
        if test.machine is not None
    )
    return (*(str(problem) for problem in test.machine_problems), *held)
