"""Receives a reel and checks it in one act, so that no reel of the mill stands unchecked.

What may be received is decided by the inventory, what agrees by `check_reel`.
"""

from datetime import datetime
from typing import Any

from django.db import transaction

from certs.models import ReceivingCheck
from certs.queries.receiving import Measured
from certs.services.check_reel import check_reel
from inventory.models import NumberSeries, Person
from inventory.rules.roles import Act
from inventory.services import files, numbering
from inventory.services.authority import require
from inventory.services.goods_in import PaperHandedIn, receive_goods
from inventory.services.receive import receive_reel

# Every series that one of the two acts may take, in the order in which all services lock them.
_SERIES = sorted(
    (
        numbering.MILL_DOCUMENT,
        numbering.HEAT,
        numbering.REEL,
        numbering.RECEIVING_CHECK,
        numbering.HOLD,
    )
)


def receive_checked_reel(
    *,
    measured: Measured,
    by: Person,
    at: datetime,
    **facts: Any,  # noqa: ANN401 -- handed on
) -> ReceivingCheck:
    """Receive a reel whose heats are on record, and check it.

    `facts` are those of `receive_reel`. Raises what `receive_reel` and `check_reel` refuse.
    """
    with transaction.atomic():
        _take_turn()
        reel = receive_reel(**facts, by=by, at=at)
        return check_reel(reel=reel, measured=measured, by=by, at=at)


def receive_checked_goods(
    *,
    measured: Measured,
    paper: PaperHandedIn | None,
    by: Person,
    at: datetime,
    **facts: Any,  # noqa: ANN401 -- handed on
) -> ReceivingCheck:
    """Receive a reel with its new heats and its new document, and check it.

    `facts` are those of `receive_goods`. Raises what `receive_goods` and `check_reel` refuse.
    """
    require(by=by, act=Act.RECEIVE_REEL)
    if paper is not None:
        # Reading a scan is slow; written before the locks, its bytes are only found there later.
        files.write_file(content=paper.content, name=paper.file_name)
    with transaction.atomic():
        _take_turn()
        reel = receive_goods(**facts, paper=paper, by=by, at=at)
        return check_reel(reel=reel, measured=measured, by=by, at=at)


def _take_turn() -> None:
    """Lock every series of both acts before the first of them locks the journal's head."""
    for series in _SERIES:
        # One by one: a series that nobody has used yet must stand before the next is locked.
        NumberSeries.objects.get_or_create(series=series)
        NumberSeries.objects.select_for_update().get(series=series)
