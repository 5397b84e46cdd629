"""The story of the demonstration in its order, from the first heat to the last recall.

Half a year of an invented stockist, told through the services alone; no clock is read.
"""

from datetime import date

from certs.management.demo import (
    bases,
    bench,
    cast,
    deciding,
    goods_in,
    handling,
    incidents,
    letterhead,
    measuring,
    other_uses,
    paperwork,
    periodic_tests,
    planning,
    proving,
    sales,
    slings,
    together,
    wires,
)
from certs.management.demo.stage import Stage
from certs.models import Certificate
from inventory.models import Reel

SECOND_LOAD, THIRD_LOAD, AUTUMN = date(2026, 8, 17), date(2026, 10, 5), date(2026, 11, 2)
CERTIFIED_FIRST = ("K-2231", "K-2232", "K-2233", "OR-5501", "V-910")
CERTIFIED_LATER = ("K-2310", "K-2311", "OR-5560")
# Reels wound here, who buys of them, and the lengths in m.
OVER_THE_COUNTER = (
    ("van 8 mm", "brackmere", (12, 12, 25)),
    ("shop 8 mm", "eskerholm", (60,)),
    ("shop 3 mm", "fennick", (8, 8, 8, 15)),
    ("shop 5 mm", "dunvarra", (20, 30)),
    ("returned 6 mm", "tolvane", (18, 18)),
)


def play(*, password: str) -> Stage:
    """Make everything in an empty record, the specification tables apart, and return it.

    Raises:
        Refusal: a service refused; then the scenario and the rules have parted.
    """
    stage = Stage()
    _open_the_house(stage, password=password)
    _first_load(stage)
    _second_load(stage)
    _third_load(stage)
    _autumn(stage)
    return stage


def _open_the_house(stage: Stage, *, password: str) -> None:
    cast.hire(stage, password=password)
    cast.make_keys(stage)
    letterhead.set_the_letterhead(stage)
    cast.register_firms(stage)
    letterhead.write_in_german(stage, "sundelow")
    cast.appoint_representatives(stage)
    bench.set_up_machines(stage)
    goods_in.record_heats(stage)
    goods_in.receive_fittings(stage)


def _first_load(stage: Stage) -> None:
    _receive(stage, wave=1)
    agreed = deciding.agree_on_a_guard_band(stage, customer="eskerholm")
    tests = bench.break_first_samples(stage, agreed=agreed)
    handling.rewind_for_the_shop(stage)
    handling.take_a_wrong_cut_back(stage)
    sales.trade(stage, for_sale=_mill_reels(stage), orders=12)
    for asked in slings.FIRST:
        slings.build(stage, asked)
    slings.build_stays(stage)
    for proof in proving.FIRST:
        proving.prove(stage, proof)
    handling.hold_a_sling(stage, "12 mm")
    paperwork.report_break(stage, "break 12 mm", tests["12 mm"], customer="eskerholm")
    paperwork.certify_assembly(stage, "8 mm", customer="brackmere")
    paperwork.certify_assembly(stage, "10 mm", customer="brackmere")
    paperwork.certify_assembly(stage, "stay 1", customer="dunvarra")
    paperwork.certify_assembly(
        stage,
        "20 mm spliced",
        customer="marrowby",
        kind=Certificate.DocumentKind.TEST_REPORT,
        witnesses=(),
    )
    paperwork.certify_assembly(
        stage,
        "20 mm socketed",
        customer="sundelow",
        kind=Certificate.DocumentKind.CERTIFICATE_32,
        witnesses=("inspector", "visitor"),
    )
    paperwork.certify_orders(stage, reels=CERTIFIED_FIRST, count=4)
    handling.take_rope_back(stage)
    _sell_over_the_counter(stage)


def _sell_over_the_counter(stage: Stage) -> None:
    """Sell from the reels that were wound here, each time with a certificate and tags."""
    for reel, buyer, lengths_m in OVER_THE_COUNTER:
        customer = stage.parties[buyer]
        pieces = [sales.supply(stage, stage.reels[reel], length_m=one) for one in lengths_m]
        draft = paperwork.draft_for_pieces(stage, pieces, customer=customer)
        paperwork.issue(stage, reel, draft)
        paperwork.tag_pieces(stage, pieces)
        sales.hand_over(stage, *pieces, customer=customer)


def _second_load(stage: Stage) -> None:
    stage.calendar.wait_until(SECOND_LOAD)
    _receive(stage, wave=2)
    measuring.decide_on_the_thick_reel(stage)
    handling.hold_and_release_ferrules(stage)
    sales.trade(stage, for_sale=_mill_reels(stage), orders=12)
    sales.scrap(stage, _mill_reels(stage))
    for asked in slings.SECOND:
        slings.build(stage, asked)
    for proof in proving.SECOND:
        proving.prove(stage, proof)
    slings.build(stage, slings.SAFETY_WIRE)
    proving.prove(stage, proving.ON_THE_OLD_BENCH)
    for key, customer in (
        ("13 mm two legs", "sundelow"),
        ("16 mm four legs", "eskerholm"),
        ("half inch", "fennick"),
        ("10 mm of the weak reel", "wickenfell"),
        ("8 mm held", "brackmere"),
    ):
        paperwork.certify_assembly(stage, key, customer=customer)
    paperwork.certify_orders(stage, reels=CERTIFIED_LATER, count=3)
    paperwork.replace_a_tag(stage, "16 mm four legs")


def _third_load(stage: Stage) -> None:
    stage.calendar.wait_until(THIRD_LOAD)
    _receive(stage, wave=3)
    sales.trade(stage, for_sale=_mill_reels(stage), orders=8)
    other_uses.build_for_other_uses(stage)


def _autumn(stage: Stage) -> None:
    """Play what is found out afterwards, and leave some work for whoever opens the pages."""
    stage.calendar.wait_until(AUTUMN)
    weak = stage.reels["K-2233"]
    piece = sales.supply(stage, weak, length_m=45)
    customer = stage.parties["eskerholm"]
    draft = paperwork.draft_for_pieces(stage, [piece], customer=customer)
    before = paperwork.issue(stage, "before the break", draft)
    paperwork.tag_pieces(stage, [piece])
    sales.hand_over(stage, piece, customer=customer)
    test = bench.break_a_weak_sample(stage)
    paperwork.report_break(stage, "break 10 mm", test, customer="eskerholm")
    paperwork.correct(
        stage,
        before,
        key="after the break",
        reason=f"The breaking force is lowered: sample {test.sample.code} broke below it.",
    )
    incidents.recall(stage, handling.hold_a_stretch(stage, around="8 mm held"))
    incidents.report_from_a_site(stage, sling="16 mm four legs")
    wires.pull_wires(stage)
    periodic_tests.break_from_time_to_time(stage)
    periodic_tests.read_a_reel(stage)
    _leave_drafts(stage)
    planning.plan_orders(stage, rope_of="K-2310")


def _leave_drafts(stage: Stage) -> None:
    """Leave drafts that cannot be issued yet: each lacks something else."""
    customer, drafts = stage.parties["marrowby"], []
    for number in ("K-2400", "TS-77"):
        piece = sales.supply(stage, stage.reels[number], length_m=15)
        drafts.append(paperwork.draft_for_pieces(stage, [piece], customer=customer))
    paperwork.draft_for_assembly(stage, "6 mm stainless", customer="dunvarra")
    paperwork.draft_for_assembly(stage, "10 mm more", customer="brackmere")
    together.issue_together(stage, drafts[0], reel="K-2311", length_m=12, customer="marrowby")


def _receive(stage: Stage, *, wave: int) -> None:
    goods_in.receive_reels(stage, wave=wave)
    bases.name_bases(stage, wave=wave)


def _mill_reels(stage: Stage) -> list[Reel]:
    return [reel for reel in stage.reels.values() if reel.origin == Reel.Origin.MILL]
