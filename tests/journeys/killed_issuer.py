"""Issues certificates in processes that are killed (SIGKILL), point after point.

    python -m tests.journeys.own_database killed_issuer POINTS MOMENTS

A point is just before or just after each statement to the database, each commit, and each
operation on a file that writes: they are counted in the child alone, from outside the program
(Django's wrapper of statements, Python's audit events). POINTS says how many of them are tried,
0 for all: two thirds of those tried write, the others are spread over what only reads. MOMENTS
says how many children are killed by the parent at a moment that nobody chose. Prints what stood
after each kill, as JSON.
"""

import json
import os
import random
import signal
import sys
import time
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path

from tests.journeys.apart import set_up

set_up()

from django.conf import settings  # noqa: E402 -- Django first
from django.db import connection, connections  # noqa: E402

from certs.models import Certificate  # noqa: E402
from certs.services.issue import issue_certificate  # noqa: E402
from certs.services.load_specifications import load_specifications  # noqa: E402
from inventory.models import JournalEntry, NumberSeries, Person, StoredFile  # noqa: E402
from inventory.queries.kept_files import read_file  # noqa: E402
from inventory.queries.loose_files import loose_files  # noqa: E402
from inventory.services.sweep import sweep_files  # noqa: E402
from tests.certs.claims import FOLDER  # noqa: E402
from tests.certs.papers import given_cut_length_draft  # noqa: E402

WRITING = {"os.rename", "os.remove", "os.mkdir", "os.chmod", "os.utime"}
DRAFTS = 12


class Fuse:
    """Counts points, and kills this process at the one it is set to."""

    def __init__(self, at=None):
        self.at = at
        self.seen = []
        self.is_lit = False

    def point(self, what):
        if not self.is_lit:
            return
        self.seen.append(what)
        if self.at in (len(self.seen), what):
            os.kill(os.getpid(), signal.SIGKILL)

    def light(self):
        connection.ensure_connection()
        for name in ("_commit", "_rollback", "_set_autocommit"):
            self._around(connection, name)
        self._around(os, "fsync")
        connection.execute_wrappers.append(self._statement)
        sys.addaudithook(self._audited)
        self.is_lit = True

    def _around(self, owner, name):
        call = getattr(owner, name)

        def counted(*arguments, **more):
            self.point(f"before {name}")
            answer = call(*arguments, **more)
            self.point(f"after {name}")
            return answer

        setattr(owner, name, counted)

    def _statement(self, execute, sql, parameters, many, context):
        self.point(f"before {sql.split(None, 1)[0]}")
        answer = execute(sql, parameters, many, context)
        self.point(f"after {sql.split(None, 1)[0]}")
        return answer

    def _audited(self, event, arguments):
        if event in WRITING or (event == "open" and _writes(arguments)):
            self.point(event)


def _writes(arguments):
    _path, mode, flags = arguments
    return bool(set("wax+") & set(mode or "")) or bool((flags or 0) & (os.O_WRONLY | os.O_RDWR))


def main(points, moments):
    load_specifications(folder=FOLDER)
    drafts = [given_cut_length_draft().draft_code for _ in range(DRAFTS)]
    by = Person.objects.get(username="qa_officer").pk
    house = House(drafts, by)
    house.count()  # the first paper of a year makes its series: it counts other points
    counted, took_s = house.count()
    # By name as well as by count, which differs by the folders that a file's name needs.
    chosen = [*_spread(counted, points), "os.rename", "before _commit", "after _commit"]
    killed = [house.kill_at(point) for point in chosen]
    chance = random.Random(1)  # noqa: S311 -- a repeatable load, no secret
    killed += [house.kill_after(chance.uniform(took_s / 2, took_s)) for _ in range(moments)]
    json.dump(
        {
            "points": len(counted),
            "writing": sum(map(_is_write, counted)),
            "killed": killed,
            "end": house.end(),
        },
        sys.stdout,
    )


def _is_write(point):
    return not point.endswith((" SELECT", " WITH"))


def _spread(counted, points):
    every = range(1, len(counted) + 1)
    if not points:
        return list(every)
    writing = [n for n in every if _is_write(counted[n - 1])]
    reading = [n for n in every if not _is_write(counted[n - 1])]
    third = points // 3
    return sorted({*_spread_over(writing, points - third), *_spread_over(reading, third)})


def _spread_over(some, count):
    """So many of them, or all there are, from the last one down."""
    return some[:: -max(1, -(-len(some) // count))]


class House:
    """The record between the kills, and those who are killed."""

    def __init__(self, drafts, by):
        self.drafts = drafts
        self.by = by
        self.issued = 0

    def count(self):
        reading, writing = os.pipe()
        start = time.monotonic()
        child = self._fork(Fuse(), tell=writing)
        os.close(writing)
        with os.fdopen(reading) as told:
            seen = json.load(told)
        assert os.waitpid(child, 0)[1] == 0
        took_s = time.monotonic() - start
        self.look("nobody was killed")
        return seen, took_s

    def kill_at(self, point):
        child = self._fork(Fuse(point))
        return self.look(f"point {point}", os.waitpid(child, 0)[1])

    def kill_after(self, seconds):
        child = self._fork(Fuse())
        time.sleep(seconds)
        with suppress(ProcessLookupError):
            os.kill(child, signal.SIGKILL)
        return self.look(f"after {seconds:.3f} s", os.waitpid(child, 0)[1])

    def _fork(self, fuse, tell=None):
        connections.close_all()  # a connection must not be shared with a child
        child = os.fork()
        if child:
            return child
        status = 1
        try:
            draft = Certificate.objects.get(draft_code=self.drafts[0])
            by = Person.objects.get(pk=self.by)
            fuse.light()
            issue_certificate(certificate=draft, by=by, at=_now())
            fuse.is_lit = False
            if tell is not None:
                os.write(tell, json.dumps(fuse.seen).encode())
            status = 0
        finally:
            os._exit(status)

    def look(self, when, status=None):
        """What stands: the numbers, the papers, the files, the journal."""
        draft = Certificate.objects.get(draft_code=self.drafts[0])
        is_whole = draft.state == Certificate.State.ISSUED
        if is_whole:
            self.drafts.pop(0)
            self.issued += 1
        else:
            assert draft.state == Certificate.State.DRAFT
        return {
            "when": when,
            "signal": None if status is None else os.waitstatus_to_exitcode(status),
            "is_whole": is_whole,
            "issued": self.issued,
            **standing(),
        }

    def end(self):
        """Sweep, then issue a draft whole that nobody kills."""
        swept = list(sweep_files(at=_now() + timedelta(hours=2)))
        child = self._fork(Fuse())
        return self.look("nobody was killed", os.waitpid(child, 0)[1]) | {"swept": len(swept)}


def _now():
    return datetime.now(tz=UTC)  # noqa: TID251 -- files are dated by the real clock


def standing():
    """The record as it stands, read past the services."""
    papers = Certificate.objects.filter(state=Certificate.State.ISSUED).order_by("number")
    series = NumberSeries.objects.filter(series__startswith="CL-").first()
    acts = JournalEntry.objects.filter(act="issue_certificate").order_by("number")
    for row in StoredFile.objects.all():
        read_file(row)  # raises unless it is there, as it was kept
    root = Path(settings.STORAGES["default"]["OPTIONS"]["location"])
    return {
        "numbers": [paper.number for paper in papers],
        "last": series.last if series else 0,
        "journalled": [act.subject for act in acts],
        "whole_papers": sum(
            bool(paper.snapshot and paper.pdf_id and paper.tags.exists()) for paper in papers
        ),
        "orphans": len(list(loose_files())),
        "files": sum(path.is_file() for path in root.rglob("*")),
    }


if __name__ == "__main__":
    main(int(sys.argv[1]), int(sys.argv[2]))
