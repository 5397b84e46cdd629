"""Which of these pieces, assemblies and reels are under hold now, by their codes."""

from collections.abc import Collection

from inventory.models import Assembly, CutPiece, Reel
from inventory.queries.held import held_assemblies, held_pieces, held_reels


def held_codes(codes: Collection[str]) -> set[str]:
    """Give those of the codes whose thing is under hold, wholly or over some of its metres."""
    pieces = CutPiece.objects.filter(code__in=codes, pk__in=held_pieces())
    assemblies = Assembly.objects.filter(code__in=codes, pk__in=held_assemblies())
    reels = Reel.objects.filter(code__in=codes, pk__in=list(held_reels()))
    return {
        *pieces.values_list("code", flat=True),
        *assemblies.values_list("code", flat=True),
        *reels.values_list("code", flat=True),
    }
