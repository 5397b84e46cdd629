"""Gives out codes and numbers: gapless in each series, one at a time, under lock.

A number taken in a transaction that fails is given back with it, so no series has a gap.
"""

from collections.abc import Collection

from django.db import transaction

from inventory.models import NumberSeries
from inventory.services.locks import require_transaction

# Prefix of the codes that people read, type and scan.
PARTY_MILL = "M"
PARTY_FITTING_MAKER = "S"
PARTY_CUSTOMER = "C"
HEAT = "H"
MILL_DOCUMENT = "D"
REEL = "R"
CUT_PIECE = "P"
ORDER = "O"
FITTING_LOT = "F"
ASSEMBLY = "A"
DELIVERY = "V"
HOLD = "X"
TESTING_MACHINE = "T"
BREAKING_TEST = "BT"
PROOF_TEST = "PT"
WIRE_TEST = "WT"
RECEIVING_CHECK = "RC"
REEL_READING = "RR"
DECISION_RULE = "DR"
CERTIFICATE_DRAFT = "CD"
SITE_REPORT = "SR"
RECALL_NOTICE = "RN"
ISSUE_BATCH = "IB"


def take_number(series: str) -> int:
    """Take the next number of a series, from 1. Must run inside the transaction of the act."""
    require_transaction()
    rows = NumberSeries.objects.select_for_update()
    row = rows.filter(series=series).first()
    if row is None:
        with transaction.atomic():
            NumberSeries.objects.get_or_create(series=series)
        row = rows.get(series=series)
    row.last += 1
    row.save(update_fields=["last"])
    return row.last


def next_number(series: str) -> int:
    """Look which number is likely to be next, taking nothing and locking nothing."""
    row = NumberSeries.objects.filter(series=series).first()
    return row.last + 1 if row else 1


def last_numbers(series: Collection[str]) -> dict[str, int]:
    """Look how far these series have come, taking nothing and locking nothing."""
    rows = NumberSeries.objects.filter(series__in=series)
    return dict(rows.values_list("series", "last"))


def take_code(prefix: str) -> str:
    """Take the next code of a kind of thing, such as "R-00012"."""
    return f"{prefix}-{take_number(prefix):05d}"
