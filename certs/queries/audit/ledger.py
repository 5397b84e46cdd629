"""Adds up the metres of every reel anew: no two cuts overlap, none passes the end, none is lost.

The database refuses all of this (`inventory.models.ledger_guards`); an audit does not rely on it.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from operator import itemgetter
from typing import NamedTuple

from certs.rules.disagreement import Disagreement, What
from inventory.models import CutPiece, Reel

CHUNK = 1000


class _Cut(NamedTuple):
    reel_id: int
    from_mm: int
    to_mm: int
    code: str


def metres_add_up() -> Iterator[Disagreement]:
    """Go through reels and cuts side by side, both by reel."""
    columns = ("reel_id", "from_mm", "to_mm", "code")
    standing = CutPiece.objects.filter(is_reversed=False).order_by("reel_id", "from_mm", "pk")
    cuts = (_Cut(*row) for row in standing.values_list(*columns).iterator(chunk_size=CHUNK))
    reels = Reel.objects.order_by("pk").values_list("pk", "code", "length_mm")
    lengths = reels.iterator(chunk_size=CHUNK)
    reel = next(lengths, None)
    for reel_id, on_reel in groupby(cuts, key=itemgetter(0)):
        while reel is not None and reel[0] < reel_id:
            reel = next(lengths, None)
        if reel is not None and reel[0] == reel_id:
            yield from _reel(reel[1], reel[2], list(on_reel))
    yield from _wound_reels()
    yield from _reversals()


def _reel(code: str, length_mm: int, cuts: Sequence[_Cut]) -> Iterator[Disagreement]:
    where = f"reel {code}"
    for before, after in pairwise(cuts):
        if after.from_mm < before.to_mm:
            found = f"it begins at {after.from_mm} mm"
            expected = f"piece {after.code} begins at {before.to_mm} mm or later, after"
            yield Disagreement(What.LEDGER, where, f"{expected} {before.code}", found)
    for cut in cuts:
        if not 0 <= cut.from_mm < cut.to_mm <= length_mm:
            found = f"{cut.from_mm} to {cut.to_mm} mm"
            expected = f"piece {cut.code} within 0 to {length_mm} mm"
            yield Disagreement(What.LEDGER, where, expected, found)
    left_mm = _left(length_mm, cuts)
    gone_mm = sum(cut.to_mm - cut.from_mm for cut in cuts)
    if gone_mm + left_mm != length_mm:
        found = f"{gone_mm} mm cut and {left_mm} mm left"
        yield Disagreement(What.LEDGER, where, f"{length_mm} mm in all", found)


def _left(length_mm: int, cuts: Sequence[_Cut]) -> int:
    """Count the millimetres that no cut covers, walking along the reel."""
    left_mm = reached_mm = 0
    for cut in cuts:
        left_mm += max(0, min(cut.from_mm, length_mm) - reached_mm)
        reached_mm = max(reached_mm, cut.to_mm)
    return left_mm + max(0, length_mm - reached_mm)


def _wound_reels() -> Iterator[Disagreement]:
    """Compare every reel wound here with the cut piece that it was wound from."""
    columns = (
        "code",
        "length_mm",
        "origin_from_mm",
        "origin_to_mm",
        "wound_from__from_mm",
        "wound_from__to_mm",
        "wound_from__is_reversed",
    )
    wound = Reel.objects.filter(wound_from__isnull=False).order_by("pk").values_list(*columns)
    for code, length_mm, start, end, cut_start, cut_end, is_reversed in wound.iterator():
        where = f"reel {code}"
        if is_reversed:
            yield Disagreement(What.LEDGER, where, "wound from a cut that stands", "a reversed cut")
        if length_mm != end - start or not cut_start <= start < end <= cut_end:
            expected = f"as long as its stretch, within {cut_start} to {cut_end} mm"
            found = f"{length_mm} mm of {start} to {end} mm"
            yield Disagreement(What.LEDGER, where, expected, found)


def _reversals() -> Iterator[Disagreement]:
    """Look that a cut counts as reversed just where a reversal says so."""
    pieces = CutPiece.objects.order_by("pk").values_list("code", flat=True)
    for code in pieces.filter(is_reversed=True, reversal=None).iterator():
        yield Disagreement(What.LEDGER, f"piece {code}", "a reversal that names it", "none")
    for code in pieces.filter(is_reversed=False, reversal__isnull=False).iterator():
        yield Disagreement(What.LEDGER, f"piece {code}", "a reversed cut", "a cut that stands")
