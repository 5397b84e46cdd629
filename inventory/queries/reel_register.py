"""The reels on record, narrowed by rope, mill and whether anything is left on them."""

from dataclasses import dataclass

from django.db.models import BigIntegerField, F, OuterRef, QuerySet, Subquery, Sum
from django.db.models.functions import Coalesce

from inventory.models import CutPiece, Party, Reel


@dataclass(frozen=True, slots=True)
class RopesOnRecord:
    """What the reels on record differ in, each value once and in order."""

    constructions: tuple[str, ...]
    grades: tuple[str, ...]


def reels_on_record(
    *,
    construction: str = "",
    diameter_nm: int | None = None,
    grade: str = "",
    mill: Party | None = None,
    is_in_stock: bool = False,
) -> QuerySet[Reel]:
    """Return the reels by diameter, designation and code; "" or None: not narrowed by it."""
    asked = {
        "construction": construction,
        "diameter_nm": diameter_nm,
        "grade": grade,
        "mill": mill,
    }
    reels = Reel.objects.filter(**{k: v for k, v in asked.items() if v not in {"", None}})
    if is_in_stock:
        reels = reels.annotate(cut_mm=_cut_mm()).filter(cut_mm__lt=F("length_mm"))
    return reels.select_related("mill").order_by("diameter_nm", "designation", "code")


def ropes_on_record() -> RopesOnRecord:
    """Return the constructions and grades of all reels, in one query."""
    found = set(Reel.objects.values_list("construction", "grade").distinct())
    return RopesOnRecord(
        constructions=tuple(sorted({construction for construction, _ in found})),
        grades=tuple(sorted({grade for _, grade in found})),
    )


def _cut_mm() -> Coalesce:
    cuts = CutPiece.objects.filter(reel=OuterRef("pk"), is_reversed=False).order_by()
    sums = cuts.values("reel").annotate(mm=Sum(F("to_mm") - F("from_mm"))).values("mm")
    return Coalesce(Subquery(sums), 0, output_field=BigIntegerField())
