"""The tensile grade that may be stated of a reel's rope, from its marks and its breaking tests.

Only a basis that asks a force of the grade, a factor or a table row, lets a test bear on it: the
maker's declared value and an agreed value ask what was declared or agreed, whatever the grade.
"""

from certs.models import StrengthBasis
from certs.queries.derivation import force_on_basis, named_basis
from certs.queries.rope_tests import tests_on_rope
from certs.queries.specification_rows import grade_name_rows
from certs.rules.breaking_force import whole_newtons
from certs.rules.certified_grade import GradeClaim, MeasuredForce, certified_grade
from certs.rules.rope_grade import ForceEvidence
from inventory.models import Reel

BEARS_ON_GRADE = (StrengthBasis.Kind.FACTOR, StrengthBasis.Kind.TABLE)


def grade_of(reel: Reel) -> GradeClaim:
    """State the grade of a reel's rope."""
    return certified_grade(
        designated=reel.grade,
        marked=reel.marked_grade,
        measured=_measured(reel),
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
