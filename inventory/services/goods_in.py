"""Receives a reel with what came with it, its heats and its document, as one whole.

What may be true of each of them is decided in `inventory.services.receive`; here they are recorded
together or not at all.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from django.db import transaction

from inventory.models import Heat, MillDocument, NumberSeries, Party, Person, Reel
from inventory.queries.registers import heat_of, mill_document_of
from inventory.rules.as_given import NOTHING_GIVEN
from inventory.rules.roles import Act
from inventory.services import files, numbering
from inventory.services.authority import require
from inventory.services.receive import (
    CannotReceive,
    HeatTie,
    file_mill_document,
    receive_reel,
    record_heat,
)


@dataclass(frozen=True, slots=True)
class HeatNamed:
    """A heat by the mill's number; recorded now if a steel is named and the mill has none so."""

    number: str
    steel_name: str = ""
    analysis: Mapping[str, str] = field(default_factory=dict)
    from_mm: int | None = None
    to_mm: int | None = None


@dataclass(frozen=True, slots=True)
class PaperHandedIn:
    """A mill document that came with the reel and is filed now."""

    number: str
    kind: str
    form: str
    issued_date: date
    validated_by: str
    content: bytes
    file_name: str


def receive_goods(
    *,
    designation: str,
    mill: Party,
    mill_reel_number: str,
    length_mm: int,
    heats: Sequence[HeatNamed],
    paper: PaperHandedIn | None,
    document_on_file: str,
    location: str,
    marked_grade: str,
    declared_force_n: int | None,
    declared_mass_g_per_100m: int | None,
    marking: str,
    lay_length_um: int | None = None,
    as_given: Mapping[str, str] = NOTHING_GIVEN,
    by: Person,
    at: datetime,
) -> Reel:
    """Receive a reel, and record its new heats and its new document with it.

    Args:
        paper: a document that came with it; None if it is on file already or did not come.
        document_on_file: number or code of a document filed before; "" if there is none.

    Raises:
        CannotReceive: a heat or document that is not on record, both a new document and one on
            file, or anything that `receive_reel` refuses.
        UnfitFile: the scan is not fit to keep.
    """
    require(by=by, act=Act.RECEIVE_REEL)
    if paper is not None and document_on_file.strip():
        message = "Either name a document on file or hand in a new one, not both."
        raise CannotReceive(message, field="document_on_file")
    if paper is not None:
        # Reading a scan is slow; written before the locks, its bytes are only found there later.
        files.write_file(content=paper.content, name=paper.file_name)
    with transaction.atomic():
        _take_turn()
        return receive_reel(
            designation=designation,
            mill=mill,
            mill_reel_number=mill_reel_number,
            length_mm=length_mm,
            heats=[_tie(named, mill=mill, by=by, at=at) for named in heats],
            mill_document=_document(paper, document_on_file, mill=mill, by=by, at=at),
            location=location,
            marked_grade=marked_grade,
            declared_force_n=declared_force_n,
            declared_mass_g_per_100m=declared_mass_g_per_100m,
            marking=marking,
            lay_length_um=lay_length_um,
            as_given=as_given,
            by=by,
            at=at,
        )


def _take_turn() -> None:
    """Lock every number series used here before the journal's head is locked the first time.

    Several acts in one transaction would otherwise take a series after the head, while another
    transaction waits for the head with that series in hand.
    """
    for series in sorted((numbering.MILL_DOCUMENT, numbering.HEAT, numbering.REEL)):
        # One by one: a series that nobody has used yet must stand before the next is locked.
        NumberSeries.objects.get_or_create(series=series)
        NumberSeries.objects.select_for_update().get(series=series)


def _tie(named: HeatNamed, *, mill: Party, by: Person, at: datetime) -> HeatTie:
    heat = heat_of(mill=mill, number=named.number.strip())
    if heat is None:
        heat = _new_heat(named, mill=mill, by=by, at=at)
    elif named.steel_name.strip() not in {"", heat.steel_name} or (
        named.analysis and dict(named.analysis) != heat.analysis
    ):
        message = (
            f"Heat {heat.number} is on record as {heat.code} with another steel or analysis;"
            " leave both empty to use it, or check the number."
        )
        raise CannotReceive(message, field="heats")
    return HeatTie(heat, named.from_mm, named.to_mm)


def _new_heat(named: HeatNamed, *, mill: Party, by: Person, at: datetime) -> Heat:
    if not named.steel_name.strip():
        message = (
            f"{mill.code} has no heat {named.number} on record yet;"
            " name its steel as well, and it is recorded with the reel."
        )
        raise CannotReceive(message, field="heats")
    return record_heat(
        mill=mill,
        number=named.number,
        steel_name=named.steel_name,
        analysis=named.analysis,
        by=by,
        at=at,
    )


def _document(
    paper: PaperHandedIn | None, on_file: str, *, mill: Party, by: Person, at: datetime
) -> MillDocument | None:
    if paper is not None:
        return file_mill_document(
            mill=mill,
            number=paper.number,
            kind=paper.kind,
            form=paper.form,
            issued_date=paper.issued_date,
            validated_by=paper.validated_by,
            content=paper.content,
            file_name=paper.file_name,
            by=by,
            at=at,
        )
    if not on_file.strip():
        return None
    document = mill_document_of(mill=mill, named=on_file.strip())
    if document is None:
        message = f"{mill.code} has no document “{on_file.strip()}” on file; hand it in below."
        raise CannotReceive(message, field="document_on_file")
    return document
