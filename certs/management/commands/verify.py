"""Checks papers at a terminal: against the record here, or offline against an exported bundle."""

import json
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from certs.documents.verifier.command import main as verify_offline
from certs.queries.claims import certificate_of
from certs.rules.paper_check import Standing
from certs.services.check_paper import CannotCheck, CheckedPaper, check_file, check_on_record
from inventory.rules.refusal import Refusal

_WRONGLY_CALLED = 2
_CODES = {
    Standing.GOOD: 0,
    Standing.NOT_IN_FORCE: 1,
    Standing.NOT_GENUINE: 1,
    Standing.NOT_PROVED: 3,
}
_LAST_WORDS = {
    Standing.GOOD: "Genuine and in force: every check holds.",
    Standing.NOT_IN_FORCE: "GENUINE, BUT NOT TO BE RELIED ON.",
    Standing.NOT_GENUINE: "NOT VALID.",
    Standing.NOT_PROVED: "Not proved: nothing fails, but not every check could be made.",
}


class Command(BaseCommand):
    """`manage.py verify FILE… [--bundle ZIP] [--keys FILE] [--json]`."""

    help = (
        "Check papers: PDFs or numbers of certificates against the record here; anything else, and"
        " everything where a bundle is named, offline as verify_record.py does. Exit code: 0 all"
        " holds, 1 something fails, 2 called wrongly, 3 something cannot be said."
    )
    # Offline nothing of this installation is needed, least of all its database.
    requires_system_checks = ()

    def add_arguments(self, parser: CommandParser) -> None:
        """Take what is to be checked, and against what."""
        parser.add_argument("files", nargs="+", metavar="FILE", help="a file, folder or number")
        parser.add_argument("--bundle", help="check offline, with this ZIP or folder beside")
        parser.add_argument(
            "--keys", action="append", default=[], metavar="FILE", help="offline: keys to trust"
        )
        parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")

    def handle(self, *_args: Any, **options: Any) -> None:  # noqa: ANN401 -- Django's signature
        """Print what was found and exit with what it came to."""
        files, bundle, keys = options["files"], options["bundle"], options["keys"]
        if bundle or keys or not all(map(_is_of_record, files)):
            asked = [*files, *([bundle] if bundle else [])]
            asked += [part for path in keys for part in ("--keys", path)]
            raise SystemExit(verify_offline([*asked, *(["--json"] if options["as_json"] else [])]))
        try:
            answers = [(name, _checked(name)) for name in files]
        except Refusal as refusal:
            self.stderr.write(refusal.message, self.style.ERROR)
            raise SystemExit(_WRONGLY_CALLED) from refusal
        told = _as_json(answers) if options["as_json"] else _as_text(answers)
        self.stdout.write(told)
        codes = {_CODES[answer.standing] for _, answer in answers}
        raise SystemExit(next(code for code in (1, 3, 0) if code in codes))


def _is_of_record(name: str) -> bool:
    """Tell whether this is a PDF, or no file and so the number of a certificate."""
    path = Path(name)
    return not path.exists() or (path.is_file() and path.read_bytes().startswith(b"%PDF-"))


def _checked(name: str) -> CheckedPaper:
    path = Path(name)
    if path.exists():
        return check_file(path.read_bytes())
    certificate = certificate_of(name)
    if certificate is None:
        message = f"“{name}” is neither a file nor the number of a certificate."
        raise CannotCheck(message)
    return check_on_record(certificate)


def _as_text(answers: list[tuple[str, CheckedPaper]]) -> str:
    lines: list[str] = []
    for name, answer in answers:
        lines.append(f"{name}: {answer.title} {answer.number}".rstrip(" :"))
        lines += [f"  {c.verdict.words:<10}  {c.topic}: {c.meaning}" for c in answer.checks]
        lines += [f"  {answer.advice}", f"  {_LAST_WORDS[answer.standing]}"]
    return "\n".join(lines)


def _as_json(answers: list[tuple[str, CheckedPaper]]) -> str:
    told = [
        {
            "file": name,
            "standing": answer.standing,
            "number": answer.number,
            "sha256": answer.sha256,
            "state": answer.state,
            "advice": answer.advice,
            "checks": [
                {"topic": c.topic, "verdict": c.verdict, "meaning": c.meaning}
                for c in answer.checks
            ],
        }
        for name, answer in answers
    ]
    return json.dumps(told, ensure_ascii=False, indent=2)
