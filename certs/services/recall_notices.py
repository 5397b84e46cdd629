"""Writes the letters of a recall, one to each customer, and keeps what became of each.

Each letter is an act of its own, in a transaction of its own: a failure half-way leaves whole
letters, and asking again writes those that are missing. What a letter has told a customer is
told no second time; what was found since is told in a further letter.
"""

import json
from datetime import datetime
from typing import Any

from django.conf import settings
from django.db import transaction
from django.urls import reverse

from certs.documents.recall_letter import recall_letter_pdf
from certs.models import RecallNotice
from certs.queries.recall_notices import CustomerStanding, standings
from certs.queries.recall_of_hold import recall_of_hold
from certs.rules.recall_advice import CAUTIONS, DO_NOW
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Hold, Person
from inventory.models.hold import SUBJECTS
from inventory.queries.hold_subject import subject_of
from inventory.rules.canonical import canonical_text
from inventory.rules.refusal import Refusal
from inventory.services.files import keep_made
from inventory.services.guarded import add_row
from inventory.services.journal import append
from inventory.services.locks import lock_row
from inventory.services.numbering import RECALL_NOTICE, take_code

LONGEST_WORDS = 1000


class CannotRecall(Refusal):
    """The letters cannot be written."""


def write_letters(*, hold: Hold, words: str = "", by: Person, at: datetime) -> list[RecallNotice]:
    """Write a letter to each customer who has something of what is in doubt and was not told yet.

    Args:
        words: what the customers are told is in doubt; the reason of the hold if empty.

    Raises:
        NotAllowed: the person's role writes no recalls.
        CannotRecall: the hold is released, or on a testing machine, or the words are too many.
    """
    require(by=by, act=ClaimAct.WRITE_RECALL)
    told = words.strip() or hold.reason
    if len(told) > LONGEST_WORDS:
        message = f"Say it in at most {LONGEST_WORDS} signs; the items are listed by themselves."
        raise CannotRecall(message, field="words")
    recall = recall_of_hold(hold)
    if recall is None:
        message = (
            "Nothing is made of a testing machine, so nothing can be recalled from its hold. Put"
            " the assemblies that were proof-loaded on it on hold, and recall those."
        )
        raise CannotRecall(message)
    codes = [one.customer.code for one in standings(hold, recall) if one.unwritten.codes]
    letters = (_write(hold, code, words=told, by=by, at=at) for code in codes)
    return [letter for letter in letters if letter is not None]


def _write(
    hold: Hold, customer: str, *, words: str, by: Person, at: datetime
) -> RecallNotice | None:
    """Write one letter, unless another writer of the same was quicker."""
    with transaction.atomic():
        locked = _standing_hold(hold)
        recall = recall_of_hold(locked)
        found = standings(locked, recall) if recall else ()
        one = next((s for s in found if s.customer.code == customer and s.unwritten.codes), None)
        if one is None:
            return None
        facts = _facts(locked, one, words=words, by=by, at=at)
        canonical = canonical_text(facts)
        letter = keep_made(
            content=recall_letter_pdf(facts, canonical=canonical),
            name=f"{facts['number']}.pdf",
            media_type="application/pdf",
            at=at,
        )
        notice = add_row(
            RecallNotice(
                code=facts["number"],
                hold=locked,
                customer=one.customer,
                facts=facts,
                letter=letter,
                written_at=at,
                written_by=by,
            ),
            refusal=CannotRecall,
        )
        append(
            at=at,
            by=by,
            act=ClaimAct.WRITE_RECALL,
            subject=notice.code,
            detail={
                "deed": "write",
                "hold": locked.code,
                "customer": one.customer.code,
                "names": one.unwritten.codes,
                "letter_sha256": letter.sha256,
            },
            rows=[notice, letter],
        )
    return notice


def _standing_hold(hold: Hold) -> Hold:
    """Lock the hold, by which two writers of the same letters wait for each other."""
    lock_row(hold)
    locked = Hold.objects.select_related(*SUBJECTS).get(pk=hold.pk)
    if locked.released_at is not None:
        raise CannotRecall(f"Hold {locked.code} is released: nothing is in doubt by it any more.")
    return locked


def _facts(
    hold: Hold, one: CustomerStanding, *, words: str, by: Person, at: datetime
) -> dict[str, Any]:
    """Give all that the letter says, as JSON; it is frozen with the letter."""
    facts = {
        "number": take_code(RECALL_NOTICE),
        "written_at": at.isoformat(),
        "written_by": {"name": str(by), "role": by.get_role_display()},
        "issuer": {"name": settings.ISSUER_NAME, "address": settings.ISSUER_ADDRESS},
        "customer": {
            "code": one.customer.code,
            "name": one.customer.name,
            "address": one.customer.address,
        },
        "hold": _hold_facts(hold),
        "words": words,
        "follows": [letter.code for letter in one.letters],
        "items": one.unwritten.items,
        "papers": one.unwritten.papers,
        "do_now": DO_NOW,
        "cautions": CAUTIONS,
        "look_up": f"{settings.PUBLIC_ORIGIN}{reverse('certs:tag_typed')}",
    }
    # As the database will give it back: lists, never tuples.
    return dict(json.loads(json.dumps(facts)))


def _hold_facts(hold: Hold) -> dict[str, Any]:
    subject = subject_of(hold)
    return {
        "code": hold.code,
        "on": str(subject._meta.verbose_name),
        "subject": subject.code,
        "from_mm": hold.from_mm,
        "to_mm": hold.to_mm,
        "placed_at": hold.placed_at.isoformat(),
    }
