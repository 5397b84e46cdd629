"""Holds the record against its journal, its files and itself, and lists what does not agree."""

import json
from collections.abc import Generator, Iterator
from pathlib import Path
from time import monotonic
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from certs.queries.audit.checkpoints import KeptNote
from certs.queries.audit.whole import audit
from certs.rules.disagreement import Disagreement
from inventory.rules.signed_note import NotANote, NoteKey, read_note_key


class Command(BaseCommand):
    """`manage.py audit [--json] [--checkpoint FILE [--key TEXT]]`."""

    help = (
        "Compare the whole record with its journal, its files and itself. Ends with 1 if anything"
        " does not agree. A checkpoint kept outside also tells a journal that was written anew."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        """Take how to answer, and what was kept outside."""
        parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")
        parser.add_argument(
            "--checkpoint", action="append", default=[], metavar="FILE", help="kept elsewhere"
        )
        parser.add_argument(
            "--key", action="append", default=[], metavar="TEXT", help="NAME+ID+KEY it is signed by"
        )

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Print each disagreement as it is found; how far it has come goes to stderr."""
        kept = list(_kept(options["checkpoint"], tuple(map(_key, options["key"]))))
        begun = monotonic()
        found = self._answer(audit(kept=kept, tell=self._tell), as_json=options["as_json"])
        self._tell(f"audited in {monotonic() - begun:.1f} s")
        if found:
            message = f"{found} disagree. Change nothing, keep a copy, and find out why."
            raise CommandError(message, returncode=1)

    def _answer(self, audited: Generator[Disagreement, None, int], *, as_json: bool) -> int:
        """Print each as it is found, and return how many there were."""
        found = 0
        if as_json:
            self.stdout.write('{"disagreements": [')
        while True:
            try:
                one = next(audited)
            except StopIteration as end:
                size = end.value
                break
            if as_json:
                text = json.dumps(one.as_json(), ensure_ascii=False)
                self.stdout.write(f",{text}" if found else text)
            else:
                self.stdout.write("\n".join(_lines(one)))
            found += 1
        if as_json:
            self.stdout.write(f'], "entries": {size}, "agrees": {json.dumps(not found)}}}')
        elif not found:
            self.stdout.write(f"Everything agrees: {size} journal entries and all they speak of.")
        return found

    def _tell(self, text: str) -> None:
        self.stderr.write(text, style_func=str)


def _kept(paths: list[str], keys: tuple[NoteKey, ...]) -> Iterator[KeptNote]:
    for path in paths:
        try:
            yield KeptNote(f"checkpoint {path}", Path(path).read_text("utf-8"), keys)
        except (OSError, ValueError) as error:
            reason = error.strerror if isinstance(error, OSError) else "it is no text"
            message = f"The checkpoint {path} cannot be read: {reason}"
            raise CommandError(message, returncode=2) from error


def _key(text: str) -> NoteKey:
    try:
        return read_note_key(text)
    except NotANote as error:
        message = f"{text!r} is no key of a signed note: NAME+ID+KEY"
        raise CommandError(message, returncode=2) from error


def _lines(one: Disagreement) -> Iterator[str]:
    yield f"{one.what.value}: {one.where}"
    yield f"  expected {one.expected}"
    yield f"  found    {one.found}"
    yield f"  {one.meaning}"
