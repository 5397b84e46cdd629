"""The tensile grade that may be stated of a reel's rope, from its marks and its tests.

Only a basis that asks a force of the grade, a factor or a table row, lets a break bear on it: the
maker's declared value and an agreed value ask what was declared or agreed, whatever the grade.
The wires bear on it whatever the basis.
"""

from certs.models import StrengthBasis
from certs.queries.derivation import force_on_basis, named_basis
from certs.queries.rope_tests import tests_on_rope
from certs.queries.specification_rows import grade_name_rows
from certs.queries.wire_facts import found_text
from certs.queries.wire_tests import wire_tests_on
from certs.rules.breaking_force import whole_newtons
from certs.rules.certified_grade import GradeClaim, MeasuredForce, WireWord, certified_grade
from certs.rules.rope_grade import ForceEvidence
from certs.rules.wire_grade import TOPIC as WIRE_STRENGTHS
from inventory.models import Reel

BEARS_ON_GRADE = (StrengthBasis.Kind.FACTOR, StrengthBasis.Kind.TABLE)


def grade_of(reel: Reel) -> GradeClaim:
    """State the grade of a reel's rope."""
    return certified_grade(
        designated=reel.grade,
        marked=reel.marked_grade,
        measured=_measured(reel),
        wires=_wires(reel),
        names=grade_name_rows(),
    )


def _measured(reel: Reel) -> MeasuredForce | None:
    """Give the lowest force that counts; a failure counts even when its machine is in doubt."""
    basis = named_basis(reel)
    if basis is None or basis.kind not in BEARS_ON_GRADE:
        return None
    counting = [one.test for one in tests_on_rope(reel) if one.has_failed or one.is_evidence]
    if not counting:
        return None
    lowest = min(counting, key=lambda test: test.peak_n)
    required_n = whole_newtons(force_on_basis(reel, basis))
    return MeasuredForce(lowest.code, ForceEvidence(lowest.peak_n, required_n))


def _wires(reel: Reel) -> list[WireWord]:
    """Give the tests of wires that speak; one that refutes does so even when in doubt."""
    return [
        WireWord(one.test.code, not one.refutes_grade, found_text(one.test, WIRE_STRENGTHS))
        for one in wire_tests_on(reel)
        if one.refutes_grade or one.supports_grade
    ]
