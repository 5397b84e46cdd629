"""Invented wires for tests of the rules; what is not said is a 0.8 mm wire of grade 1770."""

from certs.rules.wire_strength import Wire
from inventory.rules.designation import parse_designation

MM = 1_000_000
ROPE = parse_designation("12 6x7-FC 1770 B sZ")


def newtons(strength, *, diameter_nm):
    """The least force in whole N at which a wire has this strength in N/mm2."""
    area_mm2 = 3.141592653589793 / 4 * (diameter_nm / MM) ** 2
    return -int(-strength * area_mm2 // 1)


def wire(strength=1900, *, mm=0.8, layer="outer", represents=1, retest=None):
    diameter_nm = round(mm * MM)
    return Wire(
        layer=layer,
        diameter_nm=diameter_nm,
        force_mn=1000 * newtons(strength, diameter_nm=diameter_nm),
        represents=represents,
        retest_force_mn=None if retest is None else 1000 * newtons(retest, diameter_nm=diameter_nm),
    )


def strand(*strengths, **facts):
    return tuple(wire(strength, **facts) for strength in strengths)
