"""Drafts a paper for one thing, or one each for many, from the record alone: nothing is typed.

What such a draft starts from is decided by `certs.queries.draft_defaults`; it may be changed
(`certs.services.change_draft`) until it is issued.
"""

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction
from django.utils import timezone

from certs.models import Certificate
from certs.queries.draft_defaults import defaults_for
from certs.queries.papers_to_issue import Certifiable, paper_of_its_own
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from certs.services.drafts import (
    CannotDraft,
    Wording,
    draft_assembly,
    draft_breaking,
    draft_cut_length,
)
from inventory.models import Assembly, CutPiece, Person


def draft_own(*, thing: Certifiable, by: Person, at: datetime) -> Certificate:
    """Draft the paper of one thing, or give the draft that it has already.

    Raises:
        NotAllowed: the person's role drafts no certificates.
        CannotDraft: it is not for supply, was taken back, or has a certificate in force.
    """
    require(by=by, act=ClaimAct.DRAFT_CERTIFICATE)
    paper = paper_of_its_own(thing)
    if paper is not None:
        if paper.state == Certificate.State.DRAFT:
            return paper
        message = f"{thing.code} has {paper.number} in force: correct that one instead."
        raise CannotDraft(message)
    start = defaults_for(thing, on=timezone.localdate(at))
    wording = Wording(
        document_kind=start.document_kind,
        customer=start.customer,
        customer_reference=start.customer_reference,
    )
    if isinstance(thing, CutPiece):
        return draft_cut_length(pieces=[thing], wording=wording, by=by, at=at)
    if isinstance(thing, Assembly):
        return draft_assembly(assembly=thing, wording=wording, by=by, at=at)
    return draft_breaking(breaking_test=thing, wording=wording, by=by, at=at)


def draft_each(
    *, things: Sequence[CutPiece | Assembly], by: Person, at: datetime
) -> list[Certificate]:
    """Draft a paper for each of these things, all or none.

    Raises:
        NotAllowed: the person's role drafts no certificates.
        CannotDraft: none was chosen, or one of them cannot have a draft.
    """
    require(by=by, act=ClaimAct.DRAFT_CERTIFICATE)
    if not things:
        raise CannotDraft("Choose at least one piece or assembly.", field="things")
    with transaction.atomic():
        return [draft_own(thing=thing, by=by, at=at) for thing in things]
