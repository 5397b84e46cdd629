"""Checks of a paper that rest on keys: its signature, the proof of its data, who vouches for both.

A key that was revoked proves only what the journal dates before; a retired one what it dates
before its end. That the journal's dates hold is checked apart.
"""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime
from typing import Any

from certs.documents.handed_in_paper import CREDENTIAL, RECORD, json_object
from certs.documents.pdf_check import PdfCheck
from certs.models import Certificate
from certs.queries.public_keys import credential_keys
from certs.rules.credential import fault_of
from certs.rules.paper_check import PaperCheck, Topic, cannot_say, fails, holds
from inventory.documents.quantities import day
from inventory.models import SigningKey
from inventory.queries.signing_keys import keys_named
from inventory.rules.canonical import sha256_hex

_NO_DATA = "No data are enclosed in it that can be read."


def check_signature(found: PdfCheck, *, issued_at: datetime | None) -> PaperCheck:
    """Check the signature of the PDF, and that its key could sign at the time.

    Args:
        found: what the reader of PDF says.
        issued_at: when the journal says that these bytes were issued; None where it does not.
    """
    if not found.is_valid:
        return fails(Topic.SIGNATURE, found.words)
    fault = _fault_of_key(found.key, issued_at=issued_at)
    if fault:
        return fails(Topic.SIGNATURE, fault)
    return holds(
        Topic.SIGNATURE, f"Signed with our key {found.key}, and not a byte was changed since."
    )


def check_data(
    enclosures: Mapping[str, bytes], *, origin: str, issued_at: datetime | None
) -> PaperCheck:
    """Check the enclosed data against their own proof, and the record they name by its hash."""
    credential = json_object(enclosures.get(CREDENTIAL, b""))
    if credential is None:
        return fails(Topic.DATA, _NO_DATA)
    fault = fault_of(credential, keys=credential_keys(origin))
    fault = fault or _fault_of_key(_key_in(credential), issued_at=issued_at)
    if fault:
        return fails(Topic.DATA, fault)
    if _record_named(credential) != sha256_hex(enclosures.get(RECORD, b"")):
        return fails(Topic.DATA, "The whole record that the data name is not the one enclosed.")
    return holds(
        Topic.DATA, f"The data prove themselves, with our key {_key_in(credential)}, unchanged."
    )


def check_record(enclosures: Mapping[str, bytes], certificate: Certificate | None) -> PaperCheck:
    """Check the enclosed data against what is on record here, byte for byte."""
    if not enclosures.get(CREDENTIAL):
        return fails(Topic.RECORD, _NO_DATA)
    if certificate is None:
        return fails(Topic.RECORD, "Nothing on record belongs to these data.")
    on_record = {CREDENTIAL: certificate.credential, RECORD: certificate.snapshot}
    hashes = {CREDENTIAL: certificate.credential_sha256, RECORD: certificate.snapshot_sha256}
    unlike = [name for name, text in on_record.items() if enclosures.get(name) != text.encode()]
    if unlike:
        return fails(Topic.RECORD, f"Not as on record: {', '.join(unlike)}.")
    if any(sha256_hex(text.encode()) != hashes[name] for name, text in on_record.items()):
        return fails(Topic.RECORD, "Our own record of this paper was changed. Ask us.")
    return holds(Topic.RECORD, f"Every value is as on record for {certificate.number}.")


def check_keys(certificate: Certificate | None) -> PaperCheck:
    """Tell whether the keys that signed the paper vouch for the house."""
    names = _keys_of(certificate)
    if certificate is None or not names:
        return cannot_say(Topic.KEYS, "No key of ours is known to have signed it.")
    if certificate.is_evaluation:
        return cannot_say(
            Topic.KEYS,
            "Signed with evaluation keys, made for trying the program out. They vouch for nobody.",
        )
    return holds(
        Topic.KEYS,
        f"Signed with the keys {', '.join(names)} of {_issuer_of(certificate)}. "
        "Compare their names with those you got from the house by another way.",
    )


def _keys_of(certificate: Certificate | None) -> Sequence[str]:
    if certificate is None:
        return ()
    told = _member(certificate, "keys")
    return [told[purpose] for purpose in ("paper", "credential") if told.get(purpose)]


def _issuer_of(certificate: Certificate) -> str:
    return str(_member(certificate, "issuer").get("name", ""))


def _member(certificate: Certificate, name: str) -> Mapping[str, Any]:
    """Read a member of the snapshot; of one that was damaged nothing, which its hash tells."""
    told = (json_object(certificate.snapshot.encode()) or {}).get(name)
    return told if isinstance(told, dict) else {}


def _key_in(credential: Mapping[str, Any]) -> str:
    return str(credential["proof"]["verificationMethod"]).partition("#")[2]


def _record_named(credential: Mapping[str, Any]) -> str:
    try:
        return str(credential["credentialSubject"]["record"]["sha256"])
    except (KeyError, TypeError):
        return ""


def _fault_of_key(name: str, *, issued_at: datetime | None) -> str:
    return next(_faults(keys_named([name]), issued_at=issued_at), "")


def _faults(keys: Sequence[SigningKey], *, issued_at: datetime | None) -> Iterator[str]:
    for key in keys:
        if key.revoked_at is not None and (issued_at is None or issued_at > key.revoked_at):
            yield (
                f"The key {key.name} was revoked on {day(key.revoked_at)}, and the journal does "
                "not date this before: somebody else may have signed it."
            )
        if key.retired_at is not None and issued_at is not None and issued_at > key.retired_at:
            end = day(key.retired_at)
            yield f"The key {key.name} was retired on {end}, before this was issued."
