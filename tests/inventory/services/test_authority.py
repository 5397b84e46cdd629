"""Every act asks for the role first: whoever may not, changes nothing."""

from datetime import date

import pytest

from inventory.rules.roles import Act, Role, may
from inventory.services import (
    assemble,
    cut,
    deliver,
    fittings,
    holds,
    keyring,
    machines,
    orders,
    parties,
    people,
    receive,
    rewind,
    take_back,
)
from inventory.services.authority import NotAllowed, require
from tests.factories import (
    MOMENT,
    ROPE,
    given_customer,
    given_delivery,
    given_fitting_lot,
    given_fitting_maker,
    given_heat,
    given_hold,
    given_machine,
    given_mill,
    given_person,
    given_piece,
    given_reel,
    pdf_bytes,
    two_eyes,
)
from tests.inventory.services.record import refuses

pytestmark = pytest.mark.django_db


def receive_a_reel(by):
    heat = given_heat()
    receive.receive_reel(
        designation=ROPE,
        mill=heat.mill,
        mill_reel_number="1",
        length_mm=1000,
        heats=[receive.HeatTie(heat)],
        mill_document=None,
        location="",
        marked_grade="",
        declared_force_n=None,
        declared_mass_g_per_100m=None,
        marking="",
        **by,
    )


def file_a_document(by):
    receive.file_mill_document(
        mill=given_mill(),
        number="1",
        kind="3.1",
        form="copy",
        issued_date=date(2026, 1, 1),
        validated_by="",
        content=pdf_bytes(),
        file_name="a.pdf",
        **by,
    )


def receive_fittings(by):
    fittings.receive_fitting_lot(
        kind="ferrule",
        maker=given_fitting_maker(),
        maker_lot_number="1",
        description="ferrule",
        material="",
        for_diameter="",
        quantity=1,
        **by,
    )


def record_a_calibration(by):
    machines.record_calibration(
        machine=given_machine(is_calibrated=False),
        certificate_number="1",
        laboratory="Invented Laboratory",
        accreditation_number="",
        calibrated_date=date(2026, 1, 1),
        due_date=date(2027, 1, 1),
        machine_class="1",
        range_from_n=1,
        range_to_n=2,
        resolution_n=None,
        **by,
    )


def build_an_assembly(by):
    eyes = two_eyes(given_piece(), given_fitting_lot())
    assemble.build_assembly(kind="one_leg", pieces=[eyes], **by)


def take_a_piece_back(by):
    piece = given_piece()
    given_delivery(piece)
    take_back.take_back_piece(piece=piece, is_turned=True, location="", **by)


def register_a_machine(by):
    machines.register_machine(name="Bench", maker="", serial_number="1", **by)


def register_a_person(by):
    people.register_person(
        username="new", full_name="New Person", role=Role.STORES, password=None, **by
    )


ACTS = {
    Act.REGISTER_PARTY: lambda by: parties.register_party(kind="mill", name="New", **by),
    Act.CHANGE_PARTY: lambda by: parties.change_party_language(
        party=given_customer(), language="de", **by
    ),
    Act.RECORD_HEAT: lambda by: receive.record_heat(
        mill=given_mill(), number="1", steel_name="C78D", analysis={}, **by
    ),
    Act.FILE_MILL_DOCUMENT: file_a_document,
    Act.RECEIVE_REEL: receive_a_reel,
    Act.MOVE_REEL: lambda by: receive.move_reel(reel=given_reel(), location="Bay 2", **by),
    Act.CUT_PIECE: lambda by: cut.cut_piece(
        reel=given_reel(), from_mm=None, length_mm=1, purpose="scrap", **by
    ),
    Act.REVERSE_CUT: lambda by: cut.reverse_cut(cut=given_piece(), reason="slip", **by),
    Act.REWIND_REEL: lambda by: rewind.rewind_reel(reel=given_reel(), from_mm=0, to_mm=1, **by),
    Act.TAKE_BACK_PIECE: take_a_piece_back,
    Act.PLACE_ORDER: lambda by: orders.place_order(
        customer=given_customer(),
        customer_reference="",
        lines=[orders.LineAsked(ROPE, 1000)],
        **by,
    ),
    Act.RECEIVE_FITTINGS: receive_fittings,
    Act.BUILD_ASSEMBLY: build_an_assembly,
    Act.RECORD_DELIVERY: lambda by: deliver.record_delivery(
        customer=given_customer(), pieces=[given_piece()], assemblies=[], **by
    ),
    Act.PLACE_HOLD: lambda by: holds.place_hold(subject=given_reel(), reason="doubt", **by),
    Act.RELEASE_HOLD: lambda by: holds.release_hold(
        hold=given_hold(given_reel()), reason="settled", **by
    ),
    Act.REGISTER_MACHINE: register_a_machine,
    Act.RECORD_CALIBRATION: record_a_calibration,
    Act.MANAGE_PEOPLE: register_a_person,
    Act.MANAGE_KEYS: lambda by: keyring.ensure_keys(**by),
}


def test_every_act_that_changes_something_is_tried():
    assert set(ACTS) == set(Act) - {Act.READ_RECORD}


@pytest.mark.parametrize("act", ACTS)
@pytest.mark.parametrize("role", Role)
def test_an_act_is_for_the_roles_that_may(role, act):
    person = given_person(role)
    by = {"by": person, "at": MOMENT}
    if may(role, act):
        ACTS[act](by)
    else:
        with pytest.raises(NotAllowed, match="does not include this act"):
            ACTS[act](by)


@pytest.mark.parametrize("act", [Act.CUT_PIECE, Act.MANAGE_PEOPLE])
def test_who_may_not_leaves_nothing_behind(act):
    given_reel()
    auditor = given_person(Role.AUDITOR)
    reel = given_reel()
    with refuses(NotAllowed, "does not include"):
        if act is Act.CUT_PIECE:
            cut.cut_piece(reel=reel, from_mm=0, length_mm=1, purpose="scrap", by=auditor, at=MOMENT)
        else:
            register_a_person({"by": auditor, "at": MOMENT})


def test_a_person_who_is_not_active_may_nothing():
    person = given_person(Role.QA_OFFICER)
    person.is_active = False
    with pytest.raises(NotAllowed):
        require(by=person, act=Act.READ_RECORD)
