"""Twenty processes at once in one record: issuing, cutting, placing holds, breaking samples.

    python -m tests.journeys.own_database twenty_desks

Prints what each desk did and how long its acts took, as JSON. A desk that meets anything but a
refusal, such as a deadlock or a locked database, fails the run.
"""

import json
import multiprocessing
import os
import sys
import time
from collections import Counter

from tests.journeys.apart import set_up

set_up()

from django.db import connections  # noqa: E402 -- Django first

from certs.models import Certificate  # noqa: E402
from certs.services import issue, print_certificate  # noqa: E402
from certs.services.load_specifications import load_specifications  # noqa: E402
from inventory.models import CutPiece, Person, Reel, TestingMachine  # noqa: E402
from inventory.rules.refusal import Refusal  # noqa: E402
from inventory.rules.roles import Role  # noqa: E402
from inventory.services.cut import cut_piece  # noqa: E402
from inventory.services.holds import place_hold, release_hold  # noqa: E402
from tests.certs.claims import FOLDER, given_breaking_test  # noqa: E402
from tests.certs.papers import given_cut_length_draft, given_documented_reel  # noqa: E402
from tests.factories import (  # noqa: E402
    MOMENT,
    given_machine,
    given_person,
    given_piece,
    given_sample,
)

DESKS = {"issue": 6, "cut": 8, "hold": 3, "break": 3}
PAPERS, CUTS, HOLDS, BREAKS = 1, 8, 2, 1

FORK = multiprocessing.get_context("fork")
START = FORK.Barrier(sum(DESKS.values()), timeout=60)


def main():
    load_specifications(folder=FOLDER)
    reel = given_documented_reel()
    machine = given_machine()
    given_person(Role.TEST_BENCH)  # once, before three benches ask for him
    work = {
        "issue": _shares(DESKS["issue"], PAPERS, lambda: _draft(reel)),
        "cut": [[reel.pk] * CUTS for _ in range(DESKS["cut"])],
        "hold": _shares(DESKS["hold"], HOLDS, lambda: given_piece(reel=reel).pk),
        "break": _shares(DESKS["break"], BREAKS, lambda: given_sample(reel=reel).pk),
    }
    connections.close_all()  # a connection must not be shared with a child
    desks = [(way, share, machine.pk) for way, shares in work.items() for share in shares]
    with FORK.Pool(len(desks)) as pool:
        began = time.monotonic()
        seen = pool.starmap(_desk, desks, chunksize=1)
        took_s = time.monotonic() - began
    json.dump({"took_s": round(took_s, 2), "desks": seen}, sys.stdout)


def _shares(desks, each, make):
    return [[make() for _ in range(each)] for _ in range(desks)]


def _draft(reel):
    return given_cut_length_draft(given_piece(reel=reel)).pk


def _desk(way, share, machine):
    """Do the acts of one desk, all of which start together."""
    by = Person.objects.get(username="qa_officer")
    printed = _count_prints() if way == "issue" else Counter()
    act = {"issue": _issue, "cut": _cut, "hold": _hold, "break": _break}[way]
    START.wait()
    seen = {"process": os.getpid(), "way": way, "done": 0, "refused": [], "slowest_s": 0.0}
    for pk in share:
        began = time.monotonic()
        try:
            act(pk, by, machine)
        except Refusal as refusal:
            seen["refused"].append(refusal.message)
        else:
            seen["done"] += 1
        seen["slowest_s"] = max(seen["slowest_s"], round(time.monotonic() - began, 2))
    return seen | {"printed": printed["papers"]}


def _count_prints():
    """Count how often a paper is rendered: more than once where somebody came in between."""
    printed, real = Counter(), print_certificate.certificate_pdf

    def counted(*facts, **more):
        printed["papers"] += 1
        return real(*facts, **more)

    print_certificate.certificate_pdf = counted
    return printed


def _issue(pk, by, _machine):
    issue.issue_certificate(certificate=Certificate.objects.get(pk=pk), by=by, at=MOMENT)


def _cut(pk, by, _machine):
    reel = Reel.objects.get(pk=pk)
    cut_piece(reel=reel, from_mm=None, length_mm=1500, purpose="supply", by=by, at=MOMENT)


def _hold(pk, by, _machine):
    piece = CutPiece.objects.get(pk=pk)
    hold = place_hold(subject=piece, reason="broken wires seen", by=by, at=MOMENT)
    release_hold(hold=hold, reason="looked at again: none", by=by, at=MOMENT)


def _break(pk, _by, machine):
    given_breaking_test(
        sample=CutPiece.objects.get(pk=pk),
        peak_n=110_000,
        machine=TestingMachine.objects.get(pk=machine),
        break_distance_mm=500,
    )


if __name__ == "__main__":
    main()
