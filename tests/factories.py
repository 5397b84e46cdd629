"""Invented things for tests, made through the services as a person would make them.

Every function says what it is given and fills in the rest with the plainest thing possible.
Names are invented; nothing here is a statement about any firm.
"""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime
from io import BytesIO

import pikepdf

from inventory.models import (
    Assembly,
    Calibration,
    CutPiece,
    Delivery,
    FittingLot,
    Heat,
    Hold,
    MillDocument,
    Order,
    OrderLine,
    Party,
    Person,
    Reel,
    SigningKey,
    TestingMachine,
)
from inventory.queries.hold_subject import Holdable
from inventory.rules.roles import Role
from inventory.services.assemble import (
    FittingAsked,
    PieceAsked,
    TerminationAsked,
    build_assembly,
)
from inventory.services.cut import cut_piece
from inventory.services.deliver import record_delivery
from inventory.services.fittings import receive_fitting_lot
from inventory.services.holds import place_hold
from inventory.services.keyring import ensure_keys
from inventory.services.machines import record_calibration, register_machine
from inventory.services.orders import LineAsked, place_order
from inventory.services.parties import register_party
from inventory.services.people import register_person
from inventory.services.receive import HeatTie, file_mill_document, receive_reel, record_heat

MOMENT = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
ROPE = "12 6x7-WSC 1770 B sZ"

_NAMES = {
    Role.STORES: "Store Hand",
    Role.TEST_BENCH: "Bench Hand",
    Role.QA_OFFICER: "Quality Officer",
    Role.INSPECTION_REPRESENTATIVE: "Inspection Representative",
    Role.AUDITOR: "Visiting Auditor",
    Role.ADMINISTRATOR: "Account Keeper",
}


def given_person(role: Role = Role.QA_OFFICER, *, password: str | None = None) -> Person:
    """The person of this role, whose user name is the role's value; registered at need."""
    found = Person.objects.filter(username=role.value).first()
    if found is not None:
        return found
    by = None if role is Role.ADMINISTRATOR else given_person(Role.ADMINISTRATOR)
    return register_person(
        username=role.value,
        full_name=_NAMES[role],
        role=role,
        password=password,
        by=by,
        at=MOMENT,
    )


def given_keys() -> list[SigningKey]:
    """A key for each purpose, for evaluation; whoever issues needs them. Returns the new ones."""
    return ensure_keys(by=given_person(Role.ADMINISTRATOR), at=MOMENT)


def given_party(kind: str, name: str) -> Party:
    found = Party.objects.filter(kind=kind, name=name).first()
    return found or register_party(kind=kind, name=name, by=given_person(), at=MOMENT)


def given_mill(name: str = "Invented Mill") -> Party:
    return given_party(Party.Kind.MILL, name)


def given_fitting_maker(name: str = "Invented Fittings Works") -> Party:
    return given_party(Party.Kind.FITTING_MAKER, name)


def given_customer(name: str = "Invented Customer") -> Party:
    return given_party(Party.Kind.CUSTOMER, name)


def given_heat(
    *, mill: Party | None = None, number: str = "", analysis: Mapping[str, str] | None = None
) -> Heat:
    """A heat of unalloyed rope steel; each call a new number unless one is given."""
    return record_heat(
        mill=mill or given_mill(),
        number=number or f"{40001 + Heat.objects.count()}",
        steel_name="C78D",
        analysis=analysis if analysis is not None else {"C": "0.78", "Si": "0.21", "Mn": "0.62"},
        by=given_person(),
        at=MOMENT,
    )


def pdf_bytes(text: str = "mill document") -> bytes:
    """A small whole PDF; the text makes one differ from another."""
    buffer = BytesIO()
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.docinfo["/Title"] = text
        pdf.save(buffer, deterministic_id=True)
    return buffer.getvalue()


def given_mill_document(
    *,
    mill: Party | None = None,
    number: str = "",
    kind: str = MillDocument.Kind.CERTIFICATE_31,
    form: str = MillDocument.Form.ORIGINAL,
) -> MillDocument:
    number = number or f"MD-{1 + MillDocument.objects.count()}"
    return file_mill_document(
        mill=mill or given_mill(),
        number=number,
        kind=kind,
        form=form,
        issued_date=date(2026, 1, 15),
        validated_by="Head of inspection (invented)",
        content=pdf_bytes(number),
        file_name=f"{number}.pdf",
        by=given_person(),
        at=MOMENT,
    )


def given_reel(
    *,
    length_m: int = 1000,
    designation: str = ROPE,
    mill: Party | None = None,
    heats: Sequence[HeatTie | Heat] = (),
    mill_document: MillDocument | None = None,
    declared_force_n: int | None = None,
    declared_mass_g_per_100m: int | None = None,
    lay_length_um: int | None = None,
    marked_grade: str = "",
    location: str = "Bay 1",
) -> Reel:
    """A reel as received, of one new heat over its whole length unless heats are given."""
    if mill is None and heats:
        first = heats[0]
        mill = (first.heat if isinstance(first, HeatTie) else first).mill
    mill = mill or (mill_document.mill if mill_document else given_mill())
    ties = [tie if isinstance(tie, HeatTie) else HeatTie(tie) for tie in heats]
    return receive_reel(
        designation=designation,
        mill=mill,
        mill_reel_number=f"MR-{1 + Reel.objects.count()}",
        length_mm=length_m * 1000,
        heats=ties or [HeatTie(given_heat(mill=mill))],
        mill_document=mill_document,
        location=location,
        marked_grade=marked_grade,
        declared_force_n=declared_force_n,
        declared_mass_g_per_100m=declared_mass_g_per_100m,
        marking="",
        lay_length_um=lay_length_um,
        by=given_person(),
        at=MOMENT,
    )


def given_order(*lines: LineAsked, customer: Party | None = None) -> Order:
    return place_order(
        customer=customer or given_customer(),
        customer_reference="PO 1",
        lines=lines or [LineAsked(designation=ROPE, length_mm=50_000)],
        by=given_person(),
        at=MOMENT,
    )


def given_order_line(
    *,
    length_m: int = 50,
    quantity: int = 1,
    as_one_length: bool = True,
    designation: str = ROPE,
    customer: Party | None = None,
) -> OrderLine:
    """The one line of a new order."""
    asked = LineAsked(
        designation=designation,
        length_mm=length_m * 1000,
        quantity=quantity,
        as_one_length=as_one_length,
    )
    return given_order(asked, customer=customer).lines.get()


def given_fitting_lot(
    *,
    kind: str = FittingLot.Kind.FERRULE,
    quantity: int = 100,
    for_diameter: str = "12",
    heat: Heat | None = None,
    document: MillDocument | None = None,
) -> FittingLot:
    return receive_fitting_lot(
        kind=kind,
        maker=document.mill if document else given_fitting_maker(),
        maker_lot_number=f"L-{1 + FittingLot.objects.count()}",
        description=f"{kind} for tests",
        material="aluminium alloy",
        for_diameter=for_diameter,
        quantity=quantity,
        heat=heat,
        document=document,
        by=given_person(),
        at=MOMENT,
    )


def given_machine(*, name: str = "Horizontal bench", is_calibrated: bool = True) -> TestingMachine:
    """A testing machine; calibrated: class 1 from 5 kN to 500 kN over the year of `MOMENT`."""
    machine = register_machine(
        name=name,
        maker="Invented Machines",
        serial_number=f"SN-{1 + TestingMachine.objects.count()}",
        by=given_person(),
        at=MOMENT,
    )
    if is_calibrated:
        given_calibration(machine)
    return machine


def given_calibration(
    machine: TestingMachine,
    *,
    calibrated_date: date = date(2026, 1, 10),
    due_date: date = date(2027, 1, 9),
    machine_class: str = "1",
    range_from_n: int = 5_000,
    range_to_n: int = 500_000,
    resolution_n: int | None = 10,
) -> Calibration:
    return record_calibration(
        machine=machine,
        certificate_number=f"CAL-{1 + Calibration.objects.count()}",
        laboratory="Invented Laboratory",
        accreditation_number="ACC 000",
        calibrated_date=calibrated_date,
        due_date=due_date,
        machine_class=machine_class,
        range_from_n=range_from_n,
        range_to_n=range_to_n,
        resolution_n=resolution_n,
        by=given_person(),
        at=MOMENT,
    )


def given_piece(
    *,
    reel: Reel | None = None,
    length_m: int = 10,
    from_m: int | None = None,
    purpose: str = CutPiece.Purpose.SUPPLY,
    order_line: OrderLine | None = None,
) -> CutPiece:
    """A piece from the first clear metres of the reel, or from `from_m` on."""
    return cut_piece(
        reel=reel or given_reel(),
        from_mm=None if from_m is None else from_m * 1000,
        length_mm=length_m * 1000,
        purpose=purpose,
        order_line=order_line,
        by=given_person(),
        at=MOMENT,
    )


def given_sample(*, reel: Reel | None = None, length_m: int = 2) -> CutPiece:
    """A piece cut for a breaking-force test."""
    return given_piece(reel=reel, length_m=length_m, purpose=CutPiece.Purpose.SAMPLE)


def two_eyes(piece: CutPiece, lot: FittingLot) -> PieceAsked:
    """The piece with a ferrule-secured eye at each end, one ferrule of the lot for each."""
    return PieceAsked(
        piece,
        [
            TerminationAsked(end, "ferrule_secured_eye", [FittingAsked(lot)], operator="Press 1")
            for end in ("near", "far")
        ],
    )


def given_assembly(
    *,
    kind: str = Assembly.Kind.ONE_LEG,
    pieces: Sequence[CutPiece] = (),
    lot: FittingLot | None = None,
    order_line: OrderLine | None = None,
) -> Assembly:
    """A sling with two ferrule-secured eyes on each piece; one new piece unless some are given."""
    cuts = list(pieces) or [given_piece()]
    size = f"{cuts[0].reel.diameter_nm / 10**6:g}"
    ferrules = lot or given_fitting_lot(for_diameter=size)
    return build_assembly(
        kind=kind,
        pieces=[two_eyes(cut, ferrules) for cut in cuts],
        order_line=order_line,
        by=given_person(),
        at=MOMENT,
    )


def given_delivery(
    *things: CutPiece | Assembly, customer: Party | None = None, order: Order | None = None
) -> Delivery:
    return record_delivery(
        customer=customer or (order.customer if order else given_customer()),
        pieces=[thing for thing in things if isinstance(thing, CutPiece)],
        assemblies=[thing for thing in things if isinstance(thing, Assembly)],
        order=order,
        by=given_person(),
        at=MOMENT,
    )


def given_hold(subject: Holdable, *, from_mm: int | None = None, to_mm: int | None = None) -> Hold:
    return place_hold(
        subject=subject,
        reason="broken wires seen",
        from_mm=from_mm,
        to_mm=to_mm,
        by=given_person(),
        at=MOMENT,
    )
