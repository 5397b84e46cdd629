"""Makes a small record with something of most kinds in it, or goes on with one; run by tests.

    python -m tests.journeys.own_database small_record make
    python -m tests.journeys.own_database small_record go_on   (one more certificate)
    python -m tests.journeys.own_database small_record busy N FOLDER  (N cuts, and backups)

Prints what it made, as JSON.
"""

import json
import os
import sys
from pathlib import Path

from tests.journeys.apart import set_up

set_up()

from django.db import connections  # noqa: E402 -- Django first

from certs.services.back_up import back_up  # noqa: E402
from certs.services.load_specifications import load_specifications  # noqa: E402
from inventory.models import Reel  # noqa: E402
from inventory.rules.roles import Role  # noqa: E402
from tests.certs.claims import FOLDER  # noqa: E402
from tests.certs.papers import given_cut_length_draft, given_documented_reel, issued  # noqa: E402
from tests.factories import MOMENT, given_delivery, given_hold, given_person, given_piece  # noqa: E402


def make():
    load_specifications(folder=FOLDER)
    for role in Role:
        given_person(role)
    reel = given_documented_reel()
    given_hold(given_piece(reel=given_documented_reel()))
    given_delivery(given_piece(reel=reel))
    given_cut_length_draft(remarks="a draft: Ærø, 12 µm, “quoted”")
    return {"number": issued(given_cut_length_draft()).number, "reel": reel.code}


def go_on():
    paper = issued(given_cut_length_draft())
    return {"number": paper.number, "pk": paper.pk}


def busy(count, folder):
    """One process cuts while another backs up."""
    connections.close_all()  # a connection must not be shared with a child
    cutter = os.fork()
    if not cutter:
        reel = Reel.objects.order_by("pk").first()
        for _ in range(int(count)):
            given_piece(reel=reel, length_m=1)
        os._exit(0)
    taken = []
    while os.waitpid(cutter, os.WNOHANG) == (0, 0):
        taken.append(str(Path(folder, f"{len(taken)}.zip")))
        back_up(Path(taken[-1]), at=MOMENT, with_keys=False, told=lambda _: None)
    return taken


if __name__ == "__main__":
    ways = {"make": make, "go_on": go_on, "busy": busy}
    json.dump(ways[sys.argv[1]](*sys.argv[2:]), sys.stdout)
