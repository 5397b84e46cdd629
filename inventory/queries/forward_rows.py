"""What a forward trace says: pieces, reels, assemblies, deliveries and customers reached.

`inventory.queries.trace_forward` finds them.
"""

from dataclasses import dataclass
from datetime import datetime

from inventory.models import FittingLot
from inventory.rules.metres import Stretch


@dataclass(frozen=True, slots=True, kw_only=True)
class ForwardPiece:
    """A cut piece that holds what was asked for, and what became of it.

    `from_mm` and `to_mm` are metres of the reel it was cut from. `asked_from_mm` and
    `asked_to_mm` place the whole piece on the reel that was asked about; `touched` is the part
    asked for, in the same metres. `depth` counts the rewinds between the two reels. `through`
    says by what it was reached: "rope", "piece" (it was asked for) or "fitting".
    """

    piece_id: int
    code: str
    purpose: str
    reel_id: int
    reel_code: str
    from_mm: int
    to_mm: int
    asked_reel_id: int
    asked_reel_code: str
    asked_from_mm: int
    asked_to_mm: int
    touched: tuple[Stretch, ...]
    depth: int
    through: str
    wound_reel_code: str
    assembly_id: int | None
    assembly_code: str
    delivery_id: int | None
    delivery_code: str
    customer_id: int | None
    customer_code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ForwardReel:
    """A reel that holds what was asked for, or held it before it was cut.

    `touched` are its own metres that do, `from_mm` the first and `to_mm` the last of them.
    `asked_from_mm` and `asked_to_mm` place the whole reel on the reel that was asked about.
    """

    reel_id: int
    code: str
    origin: str
    depth: int
    from_mm: int
    to_mm: int
    touched: tuple[Stretch, ...]
    asked_reel_code: str
    asked_from_mm: int
    asked_to_mm: int
    wound_from_code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ForwardAssembly:
    """An assembly with at least one of the pieces or fittings; "" while not delivered."""

    assembly_id: int
    code: str
    delivery_code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ForwardDelivery:
    """A delivery with at least one of the pieces or assemblies."""

    delivery_id: int
    code: str
    delivered_at: datetime
    customer_code: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ForwardCustomer:
    """Who received it."""

    customer_id: int
    code: str
    name: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Forward:
    """All that was made of what was asked about, each thing once.

    `fitting_lots` are the lots made of the heat that was asked about.
    """

    pieces: tuple[ForwardPiece, ...]
    reels: tuple[ForwardReel, ...]
    assemblies: tuple[ForwardAssembly, ...]
    deliveries: tuple[ForwardDelivery, ...]
    customers: tuple[ForwardCustomer, ...]
    fitting_lots: tuple[FittingLot, ...] = ()
