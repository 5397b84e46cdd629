"""Checks certificates, their data and the journal behind them, on any machine and offline.

    python3 verify_record.py FILE-FOLDER-OR-ZIP… [--keys FILE]… [--json]

It takes papers (PDF), their data (JSON), proofs of the journal (.tlog-proof), checkpoints, what the
journal answers over the API (JSON), a journal exported as tiles, and the public keys of the house
(its JWK set, its DID document, or certificates in PEM), one by one or together as a bundle. It says
of each what holds, what fails and what cannot be said, and what that means. Exit code: 0 when
everything holds, 1 when something fails, 2 when it was called wrongly or a file cannot be read, 3
when nothing fails and something cannot be said.
"""

import argparse
import hashlib
import json
import sys
from collections.abc import Sequence

from certs.documents.verifier.answers import (
    FAILS,
    HOLDS,
    UNSAID,
    Check,
    NotReadableError,
    outcome_of,
)
from certs.documents.verifier.handed_in import HandedIn, read_files, sort_files
from certs.documents.verifier.house_keys import HouseKey
from certs.documents.verifier.manifest import check_manifests
from certs.documents.verifier.paper_checks import check_papers
from certs.documents.verifier.proved_entries import (
    check_exports,
    check_heads,
    check_proofs,
)

WRONGLY_CALLED = 2
STATUS_UNKNOWN = (
    "Whether a paper is still in force cannot be told here: it is unknown as of its issue. Scan its"
    " code, or ask the house."
)
KEYS_FROM_BUNDLE = (
    "The keys came together with what they prove. Compare their names with those you got from the"
    " house by another way, or hand those in with --keys."
)
# SubjectPublicKeyInfo of a P-256 key up to its point (RFC 5480, 2): the house names keys by it.
_P256_HEAD = bytes.fromhex("3059301306072a8648ce3d020106082a8648ce3d030107034200")
_NAME_DIGITS = 16
_SIGNS = {HOLDS: "holds      ", FAILS: "FAILS      ", UNSAID: "cannot say "}


def verify_files(paths: Sequence[str], *, key_paths: Sequence[str] = ()) -> list[Check]:
    """Check what lies at these paths. Raises `NotReadableError` where one cannot be read."""
    return _checks(_handed_in(paths, key_paths))


def main(arguments: Sequence[str] | None = None) -> int:
    """Run from a terminal; give the exit code."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n", maxsplit=1)[0])
    parser.add_argument("paths", nargs="+", metavar="FILE", help="a file, a folder or a ZIP")
    parser.add_argument(
        "--keys", action="append", default=[], metavar="FILE", help="public keys to trust, no other"
    )
    parser.add_argument("--json", action="store_true", dest="as_json", help="print JSON")
    options = parser.parse_args(arguments)
    try:
        handed_in = _handed_in(options.paths, options.keys)
    except NotReadableError as problem:
        sys.stderr.write(f"{problem}\n")
        return WRONGLY_CALLED
    checks = _checks(handed_in)
    notes = [STATUS_UNKNOWN] if options.keys else [STATUS_UNKNOWN, KEYS_FROM_BUNDLE]
    tell = _as_json if options.as_json else _as_text
    keys = list(dict.fromkeys(_told(key) for key in handed_in.keys.keys))
    sys.stdout.write(tell(checks, keys, notes))
    return outcome_of(checks)


def _handed_in(paths: Sequence[str], key_paths: Sequence[str]) -> HandedIn:
    handed_in = sort_files(read_files(paths))
    if not key_paths:
        return handed_in
    trusted = sort_files(read_files(key_paths))
    if trusted.unreadable:
        name, reason = trusted.unreadable[0]
        raise NotReadableError(f"{name}: {reason}")
    return handed_in._replace(keys=trusted.keys)


def _checks(handed_in: HandedIn) -> list[Check]:
    checks = [
        Check(name, "file", FAILS, f"It is not as it must be: {reason}.")
        for name, reason in handed_in.unreadable
    ]
    checks += check_manifests(handed_in.files)
    proofs, entries = check_proofs(handed_in)
    exports, exported = check_exports(handed_in)
    checks += check_papers(handed_in, [*entries, *exported])
    checks += proofs
    checks += exports
    checks += check_heads(handed_in)
    if not checks:
        checks.append(Check("", "files", UNSAID, "Nothing was handed in that can be checked."))
    return checks


def _told(key: HouseKey) -> str:
    """Name a key by its bytes, as the house does, and not by what its file calls it."""
    named = _P256_HEAD + key.public if key.purpose == "paper" else key.public
    digits = hashlib.sha256(named).hexdigest()[:_NAME_DIGITS]
    revoked = f", revoked {key.revoked}" if key.revoked else ""
    return f"{key.purpose}-{digits}{revoked}"


def _as_text(checks: Sequence[Check], keys: Sequence[str], notes: Sequence[str]) -> str:
    lines = []
    subject = None
    for check in checks:
        if check.subject != subject:
            subject = check.subject
            lines += ["", subject]
        lines.append(f"  {_SIGNS[check.verdict]} {check.name}: {check.meaning}")
    lines += ["", "Keys: " + (", ".join(keys) or "none"), *notes, "", _last_word(checks)]
    return "\n".join(lines).lstrip("\n") + "\n"


def _as_json(checks: Sequence[Check], keys: Sequence[str], notes: Sequence[str]) -> str:
    told = {
        "checks": [check._asdict() for check in checks],
        "keys": list(keys),
        "notes": list(notes),
        "all_hold": outcome_of(list(checks)) == 0,
    }
    return json.dumps(told, ensure_ascii=False, indent=2) + "\n"


def _last_word(checks: Sequence[Check]) -> str:
    count = {verdict: sum(c.verdict == verdict for c in checks) for verdict in _SIGNS}
    if count[FAILS]:
        return f"NOT VALID: {count[FAILS]} of {len(checks)} checks fail."
    if count[UNSAID]:
        return f"Nothing fails, but {count[UNSAID]} of {len(checks)} checks cannot be made."
    return f"All {len(checks)} checks hold."


if __name__ == "__main__":
    sys.exit(main())
