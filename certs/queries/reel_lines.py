"""Tells what the reels behind a draft say on its checklist: force, grade, breaks, wires.

These lines speak of a reel alone and cost the most to find, so they are asked for once where many
drafts are held against the record together. What else a draft needs is told by `checklist`.
"""

from collections.abc import Callable, Hashable, Iterable, Iterator
from contextlib import suppress

from certs.queries.breaking_records import breaking_record_of
from certs.queries.check_item import CheckItem
from certs.queries.derivation import certified_force
from certs.queries.grade import grade_of
from certs.queries.rope_tests import tests_on_rope
from certs.queries.wire_tests import route_from, wire_tests_on
from certs.rules.certified_grade import GradeStanding
from certs.rules.rope_match import NoBasis
from inventory.models import Reel


class AskedOnce:
    """Lines that were found already, while one list of drafts is held against the record."""

    def __init__(self) -> None:
        """Begin with nothing found."""
        self._found: dict[Hashable, list[CheckItem]] = {}

    def lines(self, key: Hashable, ask: Callable[[], Iterable[CheckItem]]) -> list[CheckItem]:
        """Give the lines of a key, found once."""
        if key not in self._found:
            self._found[key] = list(ask())
        return self._found[key]

    def rope(self, reel: Reel) -> list[CheckItem]:
        """Give the lines on a reel's breaking force and grade."""
        return self.lines(("rope", reel.pk), lambda: [_force(reel), _grade(reel)])

    def breaks(self, reel: Reel) -> list[CheckItem]:
        """Give the line on what its breaking-force tests proved; none without a basis."""
        return self.lines(("breaks", reel.pk), lambda: _breaks(reel))

    def wires(self, reel: Reel) -> list[CheckItem]:
        """Give the line on its wire tests; none where there are none."""
        return self.lines(("wires", reel.pk), lambda: _wires(reel))


def _force(reel: Reel) -> CheckItem:
    try:
        force = certified_force(reel)
    except NoBasis as problem:
        return CheckItem("Breaking force", is_met=False, text=str(problem), about=reel.code)
    return CheckItem(
        "Breaking force",
        is_met=True,
        text=f"{reel.code}: {force.text}, {force.basis}",
        about=reel.code,
    )


def _grade(reel: Reel) -> CheckItem:
    """A mark that contradicts the designation is settled before anything is certified."""
    grade = grade_of(reel)
    return CheckItem(
        name="Tensile grade",
        is_met=grade.standing != GradeStanding.CONTRADICTED,
        text=f"{reel.code}: {grade.text}. {' '.join(grade.reasons)}",
        about=reel.code,
    )


def _breaks(reel: Reel) -> Iterator[CheckItem]:
    """A break that proved nothing is settled before more is certified."""
    with suppress(NoBasis):  # told with the force
        record = breaking_record_of(reel)
        text = " ".join(record.to_do) or f"{reel.code}: {record.words}."
        yield CheckItem("Breaking-force tests", is_met=not record.to_do, text=text, about=reel.code)


def _wires(reel: Reel) -> Iterator[CheckItem]:
    """A force calculated from wires that falls short is settled by a break."""
    wires = wire_tests_on(reel)
    if wires:
        way = route_from(wires, tests_on_rope(reel))
        text = f"{reel.code}: {way.next_step}"
        yield CheckItem("Wire test", is_met=not way.blocks, text=text, about=reel.code)
