"""Twenty processes that cut the same reel at once; run by the test of that name.

    python -m tests.journeys.own_database twenty_clients service   (through the services)
    python -m tests.journeys.own_database twenty_clients bare      (past them)

Prints what each client saw, as JSON. A client that meets anything but a refusal fails the run.
"""

import json
import multiprocessing
import os
import random
import sys

from tests.journeys.apart import set_up

set_up()

from django.db import IntegrityError, connections  # noqa: E402 -- Django first

from inventory.models import CutPiece, Person, Reel  # noqa: E402
from inventory.rules.refusal import Refusal  # noqa: E402
from inventory.services.cut import cut_piece  # noqa: E402
from tests.factories import MOMENT, given_reel  # noqa: E402

CLIENTS = 20
TRIES = 12
REEL_M = 400

FORK = multiprocessing.get_context("fork")
START = FORK.Barrier(CLIENTS)


def main(way: str) -> None:
    reel = given_reel(length_m=REEL_M)
    hand = Person.objects.get(username="qa_officer")
    connections.close_all()  # a connection must not be shared with a child
    with FORK.Pool(CLIENTS) as pool:
        asked = [(way, reel.pk, hand.pk, client) for client in range(CLIENTS)]
        seen = pool.starmap(_client, asked, chunksize=1)
    json.dump({"reel": reel.code, "clients": seen}, sys.stdout)


def _client(way: str, reel_id: int, hand_id: int, client: int) -> dict[str, int]:
    # Nobody cuts before all twenty are here: no process can be done and serve a second client.
    START.wait()
    reel, hand = Reel.objects.get(pk=reel_id), Person.objects.get(pk=hand_id)
    chance = random.Random(client)  # noqa: S311 -- a repeatable load, no secret
    seen = {"process": os.getpid(), "cut": 0, "cut_mm": 0, "refused": 0}
    for n in range(TRIES):
        length_mm = chance.randrange(500, 4_000)
        from_mm = chance.choice([None, chance.randrange(REEL_M * 1000)])
        try:
            if way == "service":
                _cut(reel, hand, from_mm=from_mm, length_mm=length_mm)
            else:
                _cut_past_the_services(reel, hand, code=f"B{client}-{n}", metre=n)
        except (Refusal, IntegrityError):
            seen["refused"] += 1
        else:
            seen["cut"] += 1
            seen["cut_mm"] += length_mm
    return seen


def _cut(reel: Reel, hand: Person, *, from_mm: int | None, length_mm: int) -> None:
    cut_piece(reel=reel, from_mm=from_mm, length_mm=length_mm, purpose="supply", by=hand, at=MOMENT)


def _cut_past_the_services(reel: Reel, hand: Person, *, code: str, metre: int) -> None:
    """Every client wants the same metre in the same round; nothing but the database says no."""
    row = CutPiece(reel=reel, code=code, purpose="supply", cut_at=MOMENT, cut_by=hand)
    row.from_mm, row.to_mm = metre * 1000, metre * 1000 + 1000
    CutPiece.objects.bulk_create([row])


if __name__ == "__main__":
    main(sys.argv[1])
