"""Receives the invented heats, documents, reels and fittings, and names what reels rest on."""

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Final

from certs.management.demo.invented import rows_of
from certs.management.demo.measuring import measured
from certs.management.demo.mill_papers import GoodsLine, MillPaper, as_pdf, as_picture
from certs.management.demo.stage import Stage
from certs.services.receive_checked import receive_checked_reel
from inventory.models import Heat, Reel
from inventory.rules.units import parse_force_n, parse_length_um
from inventory.services.fittings import receive_fitting_lot
from inventory.services.receive import HeatTie, file_mill_document, record_heat

_PRINTED: Final[Mapping[str, Callable[[MillPaper], bytes]]] = MappingProxyType(
    {"pdf": as_pdf, "png": as_picture}
)
_NOT_ELEMENTS: Final = frozenset({"maker", "number", "steel"})


def record_heats(stage: Stage) -> None:
    """Record all heats, as their documents came ahead of the goods."""
    for row in rows_of("heats"):
        analysis = {
            symbol: figure
            for symbol, figure in row.items()
            if figure and symbol not in _NOT_ELEMENTS
        }
        stage.heats[row["maker"], row["number"]] = record_heat(
            mill=stage.parties[row["maker"]],
            number=row["number"],
            steel_name=row["steel"],
            analysis=analysis,
            by=stage.people["stores"],
            at=stage.calendar.moment(),
        )


def receive_fittings(stage: Stage) -> None:
    """File the documents of the fittings and receive their lots."""
    rows = list(rows_of("fittings"))
    for number in dict.fromkeys(row["document"] for row in rows if row["document"]):
        _file_document(stage, number, goods=[row for row in rows if row["document"] == number])
    for row in rows:
        heat = stage.heats[row["maker"], row["heat"]] if row["heat"] else None
        stage.lots[row["key"]] = receive_fitting_lot(
            kind=row["kind"],
            maker=stage.parties[row["maker"]],
            maker_lot_number=row["number"],
            description=row["description"],
            material=row["material"],
            for_diameter=row["diameter"],
            quantity=int(row["quantity"]),
            heat=heat,
            document=stage.documents.get(row["document"]),
            by=stage.people["stores"],
            at=stage.calendar.moment(),
        )


def receive_reels(stage: Stage, *, wave: int) -> None:
    """File the documents of one load of reels, then receive the reels."""
    rows = [row for row in rows_of("reels") if row["wave"] == str(wave)]
    for number in dict.fromkeys(row["document"] for row in rows if row["document"]):
        _file_document(stage, number, goods=[row for row in rows if row["document"] == number])
    for row in rows:
        stage.reels[row["number"]] = _receive(stage, row)


def _file_document(stage: Stage, number: str, *, goods: list[dict[str, str]]) -> None:
    row = next(row for row in rows_of("documents") if row["number"] == number)
    paper = MillPaper(
        maker=stage.parties[row["maker"]],
        number=number,
        kind=row["kind"],
        issued=row["issued"],
        validated_by=row["validated_by"],
        goods=[_goods_line(one) for one in goods],
        heats=_heats_named(stage, maker=row["maker"], goods=goods),
    )
    stage.documents[number] = file_mill_document(
        mill=paper.maker,
        number=number,
        kind=row["kind"],
        form=row["form"],
        issued_date=date.fromisoformat(row["issued"]),
        validated_by=row["validated_by"],
        content=_PRINTED[row["file"]](paper),
        file_name=f"{number}.{row['file']}",
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )


def _goods_line(row: dict[str, str]) -> GoodsLine:
    if "designation" in row:
        heats = row["heats"].replace(";", ", ").replace("@", " m ")
        return GoodsLine(row["number"], row["designation"], f"{row['length_m']} m", heats)
    return GoodsLine(row["number"], row["description"], f"{row['quantity']} pieces", row["heat"])


def _heats_named(stage: Stage, *, maker: str, goods: list[dict[str, str]]) -> list[Heat]:
    named = (
        text.partition("@")[0]
        for row in goods
        for text in (row.get("heats") or row.get("heat", "")).split(";")
    )
    return [stage.heats[maker, number] for number in dict.fromkeys(named) if number]


def _receive(stage: Stage, row: dict[str, str]) -> Reel:
    mass = row["declared_kg_per_100m"]
    return receive_checked_reel(
        designation=row["designation"],
        mill=stage.parties[row["mill"]],
        mill_reel_number=row["number"],
        length_mm=int(row["length_m"]) * 1000,
        heats=[_tie(stage, row["mill"], text) for text in row["heats"].split(";")],
        mill_document=stage.documents.get(row["document"]),
        location=row["location"],
        marked_grade=row["marked_grade"],
        declared_force_n=parse_force_n(row["declared_kn"]) if row["declared_kn"] else None,
        declared_mass_g_per_100m=int(Decimal(mass) * 1000) if mass else None,
        marking=f"{row['number']} (invented)",
        lay_length_um=parse_length_um(row["lay_mm"]) if row["lay_mm"] else None,
        measured=measured(row["number"]),
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    ).reel


def _tie(stage: Stage, mill: str, text: str) -> HeatTie:
    number, _, stretch = text.partition("@")
    heat = stage.heats[mill, number]
    if not stretch:
        return HeatTie(heat)
    from_m, _, to_m = stretch.partition("-")
    return HeatTie(heat, int(from_m) * 1000, int(to_m) * 1000)
