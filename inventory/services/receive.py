"""Receives what comes from a mill: heats, mill documents, reels; and moves reels about.

Whether the marked values agree with a standard is a claim and decided elsewhere.
"""

from collections.abc import Mapping, Sequence
from datetime import date, datetime

from django.db import transaction
from django.utils import timezone

from inventory.models import Heat, MillDocument, Party, Person, Reel, ReelHeat
from inventory.rules.analysis import check_analysis
from inventory.rules.as_given import NOTHING_GIVEN, kept_as_given
from inventory.rules.designation import parse_designation
from inventory.rules.roles import Act
from inventory.services import files, journal, numbering
from inventory.services.authority import require
from inventory.services.guarded import add_row, check_fields
from inventory.services.locks import lock_row
from inventory.services.reel_facts import (
    CannotReceive,
    HeatTie,
    check_declared,
    check_heats,
    check_lay,
    check_maker,
    check_reel,
    describe,
    reel_detail,
)

__all__ = ["CannotReceive", "HeatTie", "file_mill_document"]
__all__ += ["move_reel", "receive_reel", "record_heat"]


def record_heat(
    *,
    mill: Party,
    number: str,
    steel_name: str,
    analysis: Mapping[str, str],
    by: Person,
    at: datetime,
) -> Heat:
    """Record a heat of a mill, or of a maker of fittings.

    Args:
        analysis: ladle analysis, element symbol to mass % as printed; may be empty.

    Raises:
        CannotReceive: the party is no maker, a field is empty, or the heat is recorded already.
    """
    require(by=by, act=Act.RECORD_HEAT)
    check_maker(mill)
    checked = check_analysis(analysis)
    with transaction.atomic():
        heat = Heat(
            code=numbering.take_code(numbering.HEAT),
            mill=mill,
            number=number.strip(),
            steel_name=steel_name.strip(),
            analysis=checked,
            recorded_at=at,
            recorded_by=by,
        )
        add_row(heat, refusal=CannotReceive)
        journal.append(
            at=at,
            by=by,
            act=Act.RECORD_HEAT.value,
            subject=heat.code,
            detail={
                "mill": mill.code,
                "number": heat.number,
                "steel": heat.steel_name,
                "analysis": checked,
            },
            rows=[heat],
        )
    return heat


def file_mill_document(
    *,
    mill: Party,
    number: str,
    kind: str,
    form: str,
    issued_date: date,
    validated_by: str,
    content: bytes,
    file_name: str,
    by: Person,
    at: datetime,
) -> MillDocument:
    """File a maker's inspection document with its scan (PDF, JPEG or PNG).

    Args:
        kind: a value of `MillDocument.Kind`, EN 10204 type as printed on the paper.
        form: a value of `MillDocument.Form`.
        validated_by: name and function of who validated it, as printed; may be empty.

    Raises:
        CannotReceive: no maker's, dated after today, or filed already.
        UnfitFile: the scan is not fit to keep.
    """
    require(by=by, act=Act.FILE_MILL_DOCUMENT)
    check_maker(mill)
    if issued_date > timezone.localdate(at):
        message = "The document is dated in the future; check its date of issue."
        raise CannotReceive(message, field="issued_date")
    written = files.write_file(content=content, name=file_name)
    with transaction.atomic():
        document = MillDocument(
            code=numbering.take_code(numbering.MILL_DOCUMENT),
            mill=mill,
            number=number.strip(),
            kind=kind,
            form=form,
            issued_date=issued_date,
            validated_by=validated_by.strip(),
            file=files.record_file(written, at=at),
            filed_at=at,
            filed_by=by,
        )
        add_row(document, refusal=CannotReceive)
        journal.append(
            at=at,
            by=by,
            act=Act.FILE_MILL_DOCUMENT.value,
            subject=document.code,
            detail={
                "mill": mill.code,
                "number": document.number,
                "kind": kind,
                "form": form,
                "issued": issued_date.isoformat(),
                "sha256": written.sha256,
            },
            rows=[document, document.file],
        )
    return document


def receive_reel(
    *,
    designation: str,
    mill: Party,
    mill_reel_number: str,
    length_mm: int,
    heats: Sequence[HeatTie],
    mill_document: MillDocument | None,
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
    """Receive a reel from the mill. Metre 0 is its free end as received.

    Args:
        designation: in the syntax of EN 12385-2, or a trade shorthand of it.
        heats: at least one; a stretch lies within the length.
        as_given: figures typed in another unit, by the names of these arguments.
        declared_force_n: minimum breaking force declared by the maker, in N.
        lay_length_um: lay length of the rope as its maker states it; None where he does not.

    Raises:
        DesignationError: the designation is not understood.
        CannotReceive: no heat, or a heat or document of another mill, or a value out of range.
    """
    require(by=by, act=Act.RECEIVE_REEL)
    rope = parse_designation(designation)
    check_reel(mill=mill, mill_document=mill_document, length_mm=length_mm)
    check_declared(declared_force_n, field="declared_force_n")
    check_declared(declared_mass_g_per_100m, field="declared_mass_g_per_100m")
    check_lay(lay_length_um, diameter_nm=rope.diameter_nm)
    check_heats(heats, mill=mill, length_mm=length_mm)
    figures = {
        "length_mm": length_mm,
        "declared_force_n": declared_force_n,
        "lay_length_um": lay_length_um,
    }
    kept = kept_as_given(as_given, figures)
    with transaction.atomic():
        reel = Reel(
            code=numbering.take_code(numbering.REEL),
            origin=Reel.Origin.MILL,
            mill=mill,
            mill_reel_number=mill_reel_number.strip(),
            mill_document=mill_document,
            **figures,
            location=location.strip(),
            marked_grade=marked_grade.strip(),
            declared_mass_g_per_100m=declared_mass_g_per_100m,
            marking=marking.strip(),
            as_given=kept,
            received_at=at,
            received_by=by,
        )
        describe(reel, rope)
        add_row(reel, refusal=CannotReceive)
        ties = [ReelHeat(reel=reel, heat=t.heat, from_mm=t.from_mm, to_mm=t.to_mm) for t in heats]
        for row in ties:
            add_row(row, refusal=CannotReceive)
        journal.append(
            at=at,
            by=by,
            act=Act.RECEIVE_REEL.value,
            subject=reel.code,
            detail=reel_detail(reel, heats),
            rows=[reel, *ties],
        )
    return reel


def move_reel(*, reel: Reel, location: str, by: Person, at: datetime) -> Reel:
    """Record where a reel stands now.

    Raises:
        CannotReceive: no location, or one that is too long.
    """
    require(by=by, act=Act.MOVE_REEL)
    with transaction.atomic():
        locked = lock_row(reel)
        locked.location = location.strip()
        if not locked.location:
            message = "Say where the reel stands now."
            raise CannotReceive(message, field="location")
        check_fields(locked, refusal=CannotReceive)
        locked.save(update_fields=["location"])
        journal.append(
            at=at,
            by=by,
            act=Act.MOVE_REEL.value,
            subject=locked.code,
            detail={"location": locked.location},
            rows=[locked],
        )
    return locked
