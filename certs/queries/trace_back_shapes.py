"""The shapes of where a thing came from, as JSON: lengths in mm, "" for a code there is none of."""

from typing import TypedDict


class ReelBack(TypedDict):
    """A reel that the rope is or was on: position x of the asked scale is sign * x + offset_mm."""

    code: str
    from_mm: int
    to_mm: int
    sign: int
    offset_mm: int
    depth: int
    wound_from: str


class HeatBack(TypedDict):
    """A heat in the rope, with the metres of the mill's reel that hold it."""

    code: str
    number: str
    steel_name: str
    mill: str
    mill_name: str
    analysis: dict[str, str]
    reel: str
    from_mm: int
    to_mm: int


class DocumentBack(TypedDict):
    """A maker's document."""

    code: str
    number: str
    kind: str
    form: str
    maker: str
    issued_date: str


class RopeBack(TypedDict):
    """Where one length of rope came from; `piece` is "" for a reel."""

    piece: str
    reels: list[ReelBack]
    heats: list[HeatBack]
    mill_documents: list[DocumentBack]


class LotRow(TypedDict):
    """A fitting lot with what it is made of."""

    code: str
    kind: str
    description: str
    maker: str
    maker_name: str
    maker_lot_number: str
    heat: str
    heat_number: str
    document: str


class MetreOnReel(TypedDict):
    """The metre of a point on one reel."""

    reel: str
    metre_mm: int


class Beside(TypedDict):
    """A piece cut near a point, with its metres on the mill's reel and where it is."""

    piece: str
    purpose: str
    reel: str
    distance_mm: int
    from_mm: int
    to_mm: int
    assembly: str
    delivery: str
    customer: str


class Point(TypedDict):
    """One point of a piece or reel: its metre on every reel, its heats, what was cut around it."""

    at_mm: int
    on_reels: list[MetreOnReel]
    heats: list[HeatBack]
    around: list[Beside]
