from decimal import Decimal

from certs.rules.breaking_force import certified_breaking_force, derive_from_factor
from certs.rules.thaw import thawed
from certs.rules.wire_force import calculated_after_unlaying, partial_loss, sum_after_unlaying
from tests.certs.rules.tables import factor, rope
from tests.certs.rules.wires import strand


def test_a_derivation_comes_back_as_it_was_frozen():
    force = certified_breaking_force(
        basis=derive_from_factor(rope(), factor("6x7", "FC")), declared_n=84_000
    )
    assert thawed(force.as_json()) == force


def test_so_does_one_with_sources_beside_its_inputs():
    loss = partial_loss([Decimal("0.93"), Decimal("0.92"), Decimal("0.94")], source="type test")
    force = calculated_after_unlaying(sum_after_unlaying(strand(1800, 1900)), loss)
    assert thawed(force.as_json()) == force
