"""Plays the QA officer who hands several drafts over at once: one stays a draft, as it must."""

from collections.abc import Sequence

from certs.management.demo import paperwork, sales
from certs.management.demo.stage import Stage
from certs.models import Certificate
from certs.services.issue_batch import settle_next, start_batch


def issue_together(
    stage: Stage, *lacking: Certificate, reel: str, length_m: int, customer: str
) -> None:
    """Issue the paper of a new piece in one batch with drafts that lack something."""
    piece = sales.supply(stage, stage.reels[reel], length_m=length_m)
    ready = paperwork.draft_for_pieces(stage, [piece], customer=stage.parties[customer])
    _hand_over(stage, [ready, *lacking])


def _hand_over(stage: Stage, drafts: Sequence[Certificate]) -> None:
    qa, moment = stage.people["qa"], stage.calendar.moment
    codes = [draft.draft_code for draft in drafts]
    batch = start_batch(draft_codes=codes, by=qa, at=moment())
    while settle_next(batch=batch, by=qa, at=moment()):
        pass
