"""An invented recall: a reel in doubt, of which two customers have something."""

from dataclasses import dataclass
from datetime import timedelta

from certs.models import Certificate, RecallNotice, Tag
from certs.services.answer_recall import record_acknowledgement, record_sent
from certs.services.recall_notices import write_letters
from certs.services.tags import issue_tag
from inventory.models import Assembly, CutPiece, Hold, Party, Reel
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued
from tests.factories import (
    MOMENT,
    given_assembly,
    given_customer,
    given_delivery,
    given_hold,
    given_person,
    given_piece,
)

LATER = MOMENT + timedelta(days=1)
SENT = LATER + timedelta(hours=2)
ANSWERED = SENT + timedelta(days=2)


@dataclass(frozen=True, slots=True)
class Doubt:
    """One piece on paper for the one, a sling for the other, and a piece that is not in doubt."""

    reel: Reel
    piece: CutPiece
    tag: Tag
    certificate: Certificate
    sling: Assembly
    sound: CutPiece
    first: Party
    second: Party
    hold: Hold


def given_doubt() -> Doubt:
    """The hold is on the first 40 m of the reel; the sound piece lies behind them."""
    reel = given_documented_reel()
    first, second = given_customer("First Customer"), given_customer("Second Customer")
    piece = given_piece(reel=reel, from_m=0, length_m=10)
    in_sling = given_piece(reel=reel, from_m=10, length_m=6)
    sound = given_piece(reel=reel, from_m=100, length_m=10)
    tag = issue_tag(piece=piece, by=given_person(), at=MOMENT)
    certificate = issued(given_cut_length_draft(piece, customer=first))
    sling = given_assembly(pieces=[in_sling])
    given_delivery(piece, customer=first)
    given_delivery(sling, customer=second)
    given_delivery(sound, customer=second)
    hold = given_hold(reel, from_mm=0, to_mm=40_000)
    return Doubt(reel, piece, tag, certificate, sling, sound, first, second, hold)


def written(hold: Hold, **more) -> list[RecallNotice]:
    return write_letters(hold=hold, **({"by": given_person(), "at": LATER} | more))


def sent(notice: RecallNotice, **more) -> RecallNotice:
    deed = {"how": "by post", "by": given_person(), "at": SENT}
    return record_sent(notice=notice, **(deed | more))


def answered(notice: RecallNotice, **more) -> RecallNotice:
    deed = {"who": "their stores", "when": ANSWERED, "by": given_person(), "at": ANSWERED}
    return record_acknowledgement(notice=notice, **(deed | more))
