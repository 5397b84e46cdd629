"""The mass of a length of rope in kg per 100 m, whatever unit a table printed or a maker declared.

A printed figure is never replaced: it stays as what the converted one rests on.
"""

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from certs.rules.breaking_force import AS_GIVEN, HALF_UP
from certs.rules.derived import Derived, Given, Source, plain, round_half_up, trimmed
from certs.rules.length_mass import QUANTITY

KG_PER_100M: Final = "kg/100m"
# NIST SP 811 B.8: 1 lb = 0.453 592 37 kg and 1 ft = 0.3048 m, both exact.
_KG_PER_LB: Final = Decimal("0.45359237")
_M_PER_FT: Final = Decimal("0.3048")
KG_PER_100M_IN: Final[Mapping[str, Decimal]] = MappingProxyType(
    {
        KG_PER_100M: Decimal(1),
        "kg/km": Decimal("0.1"),
        "kg/m": Decimal(100),
        "lb/ft": _KG_PER_LB * 100 / _M_PER_FT,
    }
)


def in_kg_per_100m(mass: Derived) -> Derived:
    """Give a mass in kg per 100 m, three significant figures; kg per 100 m stays as it is.

    A table's kg/km are moved by a decimal place and keep their figures. Raises KeyError for a
    unit that no table held here has.
    """
    if mass.unit == KG_PER_100M:
        return mass
    each = KG_PER_100M_IN[mass.unit]
    unrounded = mass.stated * each
    is_exact = mass.unit != "lb/ft"
    return Derived(
        quantity=f"{mass.quantity} in {KG_PER_100M}",
        symbol=mass.symbol,
        formula=f"{mass.symbol} = m c",
        inputs=(
            Given("m", mass.basis, plain(mass.stated), mass.unit),
            Given("c", f"{KG_PER_100M} in one {mass.unit}", trimmed(each), ""),
        ),
        source=mass.source,
        unrounded=unrounded,
        stated=unrounded if is_exact else round_half_up(unrounded),
        unit=KG_PER_100M,
        rounding="none: exact" if is_exact else HALF_UP,
        basis=mass.basis,
        rests_on=(mass,),
    )


def declared_mass(*, g_per_100m: int, document: str) -> Derived:
    """Give the maker's declared mass in kg per 100 m, naming the document that declares it."""
    mass_kg = Decimal(g_per_100m) / 1000
    return Derived(
        quantity=f"{QUANTITY} declared by the maker",
        symbol="Mdec",
        formula="Mdec = m",
        inputs=(Given("m", "declared mass", trimmed(mass_kg), KG_PER_100M),),
        source=Source(name=document, confidence="declared by the maker"),
        unrounded=mass_kg,
        stated=mass_kg,
        unit=KG_PER_100M,
        rounding=AS_GIVEN,
        basis=f"declared by the maker in {document}",
    )
