"""Writes the letters of a recall, one to each customer, and keeps what became of each.

Each letter is an act of its own, in a transaction of its own: a failure half-way leaves whole
letters, and asking again writes those that are missing. What a letter has told a customer is
told no second time; what was found since is told in a further letter.

Printing takes long, so a letter is printed for the code that is likely to be next with nothing
locked. Under lock, code and facts are looked at again: only if they have moved on is it printed
there.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.conf import settings
from django.db import transaction
from django.urls import reverse

from certs.documents.recall_letter import recall_letter_pdf
from certs.models import RecallNotice
from certs.queries.letterhead import current_letterhead, logo_of
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
from inventory.services.numbering import RECALL_NOTICE, next_number, take_code

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
    one = _untold(hold, customer)
    if one is None:
        return None
    likely = f"{RECALL_NOTICE}-{next_number(RECALL_NOTICE):05d}"
    ahead = _print(_facts(hold, one, number=likely, words=words, by=by, at=at))
    with transaction.atomic():
        locked = _standing_hold(hold)
        one = _untold(locked, customer)
        if one is None:
            return None
        number = take_code(RECALL_NOTICE)
        facts = _facts(locked, one, number=number, words=words, by=by, at=at)
        printed = ahead if ahead.canonical == canonical_text(facts) else _print(facts)
        letter = keep_made(
            content=printed.pdf, name=f"{number}.pdf", media_type="application/pdf", at=at
        )
        notice = add_row(
            RecallNotice(
                code=number,
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


@dataclass(frozen=True, slots=True)
class _Printed:
    """A letter, and the facts that it was printed from."""

    canonical: str
    pdf: bytes


def _print(facts: Mapping[str, Any]) -> _Printed:
    canonical = canonical_text(facts)
    logo = logo_of(facts["issuer"]["logo_sha256"])
    return _Printed(canonical, recall_letter_pdf(facts, canonical=canonical, logo=logo))


def _untold(hold: Hold, customer: str) -> CustomerStanding | None:
    """Find a customer who has something that no letter names; None where he was told of all."""
    recall = recall_of_hold(hold)
    found = standings(hold, recall) if recall else ()
    return next((s for s in found if s.customer.code == customer and s.unwritten.codes), None)


def _standing_hold(hold: Hold) -> Hold:
    """Lock the hold, by which two writers of the same letters wait for each other."""
    lock_row(hold)
    locked = Hold.objects.select_related(*SUBJECTS).get(pk=hold.pk)
    if locked.released_at is not None:
        raise CannotRecall(f"Hold {locked.code} is released: nothing is in doubt by it any more.")
    return locked


def _facts(
    hold: Hold, one: CustomerStanding, *, number: str, words: str, by: Person, at: datetime
) -> dict[str, Any]:
    """Give all that the letter says, as JSON; it is frozen with the letter."""
    facts = {
        "number": number,
        "written_at": at.isoformat(),
        "written_by": {"name": str(by), "role": by.get_role_display()},
        "issuer": current_letterhead().as_json(),
        "language": one.customer.language,
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
