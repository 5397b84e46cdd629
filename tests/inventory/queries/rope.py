"""Rows for the tests of queries, made through the models: no service stands between.

Lengths are whole millimetres; names and numbers are invented.
"""

from datetime import UTC, date, datetime
from itertools import count

from inventory.models import (
    Assembly,
    AssemblyPiece,
    CutPiece,
    Delivery,
    DeliveryItem,
    FittingLot,
    FittingUse,
    Heat,
    Hold,
    MillDocument,
    Party,
    Person,
    Reel,
    ReelHeat,
    StoredFile,
    Termination,
    TestingMachine,
)

MOMENT = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
ROPE = "12 6x7-WSC 1770 B sZ"

_numbers = count(1)


def code(prefix: str) -> str:
    return f"{prefix}-{next(_numbers):05d}"


def person() -> Person:
    found, _ = Person.objects.get_or_create(
        username="rope_hand", defaults={"role": "qa_officer", "journal_salt": "salt"}
    )
    return found


def party(kind: str = "mill") -> Party:
    prefix = {"mill": "M", "fitting_maker": "S", "customer": "C"}[kind]
    name = code(prefix)
    return Party.objects.create(code=name, kind=kind, name=f"firm {name}", registered_at=MOMENT)


def heat(*, mill: Party | None = None, number: str = "") -> Heat:
    name = code("H")
    return Heat.objects.create(
        code=name,
        mill=mill or party(),
        number=number or name,
        steel_name="C72D",
        recorded_at=MOMENT,
        recorded_by=person(),
    )


def mill_document(*, mill: Party | None = None) -> MillDocument:
    name = code("D")
    file = StoredFile.objects.create(
        sha256=f"{next(_numbers):064x}",
        media_type="application/pdf",
        size_bytes=1,
        name=name,
        path=name,
        kept_at=MOMENT,
    )
    return MillDocument.objects.create(
        code=name,
        mill=mill or party(),
        number=name,
        kind="3.1",
        issued_date=date(2026, 1, 5),
        file=file,
        filed_at=MOMENT,
        filed_by=person(),
    )


def mill_reel(length_mm: int = 1000, **values: object) -> Reel:
    defaults: dict[str, object] = {
        "code": code("R"),
        "origin": "mill",
        "designation": ROPE,
        "diameter_nm": 12_000_000,
        "construction": "6x7",
        "rope_core": "WSC",
        "grade": "1770",
        "finish": "B",
        "lay": "sZ",
        "length_mm": length_mm,
        "received_at": MOMENT,
        "received_by": person(),
    }
    return Reel.objects.create(**{"mill": values.get("mill") or party(), **defaults, **values})


def tie(reel: Reel, cast: Heat, from_mm: int | None = None, to_mm: int | None = None) -> ReelHeat:
    return ReelHeat.objects.create(reel=reel, heat=cast, from_mm=from_mm, to_mm=to_mm)


def cut(reel: Reel, from_mm: int, to_mm: int, purpose: str = "supply") -> CutPiece:
    return CutPiece.objects.create(
        code=code("P"),
        reel=reel,
        from_mm=from_mm,
        to_mm=to_mm,
        purpose=purpose,
        cut_at=MOMENT,
        cut_by=person(),
    )


def reverse(piece: CutPiece) -> None:
    piece.is_reversed = True
    piece.save(update_fields=["is_reversed"])


def wind(
    piece: CutPiece, *, is_turned: bool, from_mm: int | None = None, to_mm: int | None = None
) -> Reel:
    """A reel wound from a piece, or from a part of it in metres of the piece's reel."""
    origin_from = piece.from_mm if from_mm is None else from_mm
    origin_to = piece.to_mm if to_mm is None else to_mm
    return mill_reel(
        origin_to - origin_from,
        mill=piece.reel.mill,
        origin="rewind" if piece.purpose == "rewind" else "return",
        wound_from=piece,
        origin_from_mm=origin_from,
        origin_to_mm=origin_to,
        is_turned=is_turned,
    )


def rewound(reel: Reel, from_mm: int, to_mm: int, *, is_turned: bool = True) -> Reel:
    return wind(cut(reel, from_mm, to_mm, "rewind"), is_turned=is_turned)


def fitting_lot(*, cast: Heat | None = None, document: MillDocument | None = None) -> FittingLot:
    name = code("F")
    return FittingLot.objects.create(
        code=name,
        kind="ferrule",
        maker=party("fitting_maker"),
        maker_lot_number=name,
        description="ferrule",
        quantity=100,
        heat=cast,
        document=document,
        received_at=MOMENT,
        received_by=person(),
    )


def assembly(*pieces: CutPiece, lot: FittingLot | None = None) -> Assembly:
    """An assembly; the lot's ferrule sits on the near end of its first piece."""
    built = Assembly.objects.create(
        code=code("A"), kind="rope_with_ends", built_at=MOMENT, built_by=person()
    )
    for position, piece in enumerate(pieces, start=1):
        built_in = AssemblyPiece.objects.create(assembly=built, piece=piece, position=position)
        ending = Termination.objects.create(
            assembly_piece=built_in, end="near", kind="ferrule_secured_eye"
        )
        if lot is not None and position == 1:
            FittingUse.objects.create(termination=ending, lot=lot, quantity=1)
    return built


def delivery(*things: CutPiece | Assembly, customer: Party | None = None) -> Delivery:
    made = Delivery.objects.create(
        code=code("V"),
        customer=customer or party("customer"),
        delivered_at=MOMENT,
        delivered_by=person(),
    )
    for thing in things:
        name = "piece" if isinstance(thing, CutPiece) else "assembly"
        DeliveryItem.objects.create(delivery=made, **{name: thing})
    return made


def machine() -> TestingMachine:
    name = code("T")
    return TestingMachine.objects.create(
        code=name, name="bench", serial_number=name, registered_at=MOMENT
    )


def hold(**subject: object) -> Hold:
    return Hold.objects.create(
        code=code("X"), reason="in doubt", placed_at=MOMENT, placed_by=person(), **subject
    )


def release(held: Hold) -> None:
    held.released_at, held.released_by, held.release_reason = MOMENT, person(), "found sound"
    held.save(update_fields=["released_at", "released_by", "release_reason"])
