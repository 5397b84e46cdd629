"""Sets of metres as lists of stretches: joined to the fewest, or with some left out."""

from collections.abc import Iterable

from inventory.rules.metres import Stretch, free_stretches


def joined(stretches: Iterable[Stretch]) -> list[Stretch]:
    """Return the same metres as the fewest stretches, in order."""
    found: list[Stretch] = []
    for stretch in sorted(stretches):
        if found and stretch.from_mm <= found[-1].to_mm:
            found[-1] = Stretch(found[-1].from_mm, max(found[-1].to_mm, stretch.to_mm))
        else:
            found.append(stretch)
    return found


def without(stretches: Iterable[Stretch], taken: Iterable[Stretch]) -> list[Stretch]:
    """Return what of the stretches is left when the taken metres are left out, in order."""
    stretches, taken = sorted(stretches), list(taken)
    end_mm = max((stretch.to_mm for stretch in stretches), default=0)
    parts = (stretch.clip(left) for left in free_stretches(end_mm, taken) for stretch in stretches)
    return sorted(part for part in parts if part is not None)
