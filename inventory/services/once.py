"""Lets a form act once: the second sending of the same form is refused.

A double click, or a page sent again after a lost connection, must not cut a second piece.
"""

from datetime import datetime

from django.db import IntegrityError, transaction

from inventory.models import SentForm
from inventory.rules.refusal import Refusal
from inventory.services.locks import require_transaction

TOKEN_LENGTH = 43


class SentBefore(Refusal):
    """The form was sent and acted on already."""


def mark_sent(*, token: str, at: datetime) -> None:
    """Note that a form is being acted on, in the transaction of its act.

    A second sender waits for the first one's transaction and is then refused; if the first one
    failed, its note is gone with it and the second may act.

    Raises:
        SentBefore: the form was acted on already, or its token is none of ours.
    """
    require_transaction()
    if len(token) != TOKEN_LENGTH:
        message = "This form is not as we sent it. Open the page anew."
        raise SentBefore(message)
    try:
        with transaction.atomic():
            SentForm.objects.create(token=token, sent_at=at)
    except IntegrityError as error:
        message = (
            "This form was sent before, and what it asked for is recorded. "
            "To do the same again, open the page anew."
        )
        raise SentBefore(message) from error
