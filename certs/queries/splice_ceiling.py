"""The proof load that an assembly with hand splices may not see, whatever was asked for.

A load beyond it may have drawn the splice: such a test passes nothing.
"""

from decimal import ROUND_FLOOR

from certs.queries.strength import assembly_strength
from certs.rules.proof_load import HAND_SPLICE_HIGHEST, HAND_SPLICE_LIMIT
from certs.rules.working_load import GRAVITY_M_S2
from inventory.models import Assembly, Termination

HAND_SPLICE_TOLD = (
    f"Hand splices are never proved above {HAND_SPLICE_HIGHEST} times the rated load"
    f" ({HAND_SPLICE_LIMIT.text}); the limit is that of the sling's highest rating."
)


def has_hand_splice(assembly: Assembly) -> bool:
    """Tell whether any end of an assembly is spliced by hand."""
    ends = Termination.objects.filter(assembly_piece__assembly=assembly)
    return ends.filter(kind=Termination.Kind.HAND_SPLICE).exists()


def hand_splice_ceiling(assembly: Assembly) -> int | None:
    """Give the highest proof load in N, cut to the newton; None without hand splices.

    None too where the assembly has no rated load to take a share of: one that cannot be rated,
    which gets no certificate either, and a rope with ends, whose use alone could rate it.
    """
    if not has_hand_splice(assembly):
        return None
    rated_t = [load.rating.governing_t for load in assembly_strength(assembly).loads]
    if not rated_t:
        return None
    limit_n = HAND_SPLICE_HIGHEST * max(rated_t) * GRAVITY_M_S2 * 1000
    return int(limit_n.to_integral_value(ROUND_FLOOR))
