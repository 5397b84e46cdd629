"""Checks papers and credentials against what is handed in with them.

A paper: is it the very file that was issued, who signed it, what is enclosed. A credential: whose
proof does it bear, and does the journal name it. Whether a paper is still in force is known only
to the house, and is not told here.
"""

import hashlib
from collections.abc import Sequence
from typing import Any

from certs.documents.verifier.answers import FAILS, HOLDS, UNSAID, Check, NotReadableError
from certs.documents.verifier.cms import (
    PaperSignature,
    UnknownKindError,
    fault_of_signature,
    is_vouched_for,
    read_paper_signature,
)
from certs.documents.verifier.credential_proof import is_proved_by, key_named_in
from certs.documents.verifier.handed_in import HandedIn, Named
from certs.documents.verifier.house_keys import HouseKey, HouseKeys, fault_of_time
from certs.documents.verifier.issued_file import issue_naming, judge_file
from certs.documents.verifier.json_form import read_json
from certs.documents.verifier.proved_entries import ProvedEntry
from certs.documents.verifier.signed_pdf import read_enclosures, read_signed_range

_SOMEBODY_ELSES = (
    "It is signed, but not by the house, and it encloses no data of a certificate: a paper of "
    "somebody else, such as a mill. Check its signature with a reader of PDF that knows its signer."
)


def check_papers(handed_in: HandedIn, entries: Sequence[ProvedEntry]) -> list[Check]:
    """Check every PDF that is a paper of the house, and every credential beside them.

    A PDF that was found in a folder or an archive and bears no signature is somebody else's.
    """
    checks = []
    for paper in handed_in.papers:
        if _is_of_the_house(paper, handed_in.keys, entries):
            checks += _paper_checks(paper, handed_in, entries)
        elif b"/ByteRange" in paper.data:
            checks.append(Check(paper.name, "whose paper it is", UNSAID, _SOMEBODY_ELSES))
    for name, data, document in handed_in.credentials:
        checks += _credential_checks(name, data, document, handed_in.keys, entries)
    return checks


def _is_of_the_house(paper: Named, keys: HouseKeys, entries: Sequence[ProvedEntry]) -> bool:
    """Tell whether to judge a PDF as the house's: asked for, journalled, or made as its papers."""
    return (
        paper.is_asked
        or issue_naming(entries, "pdf", paper.data) is not None
        or any(_as_credential(data)[1] for data in read_enclosures(paper.data))
        or _signer_is_of_the_house(paper.data, keys)
    )


def _signer_is_of_the_house(data: bytes, keys: HouseKeys) -> bool:
    try:
        found = read_signed_range(data)
        signer = read_paper_signature(found.cms).signer if found else None
    except NotReadableError:
        return False
    if signer is None:
        return False
    known = any(key.public == signer.point for key in keys.of("paper"))
    return known or is_vouched_for(signer, keys.roots)


def _paper_checks(paper: Named, handed_in: HandedIn, entries: Sequence[ProvedEntry]) -> list[Check]:
    enclosed = read_enclosures(paper.data)
    credentials = [(data, document) for data, document in map(_as_credential, enclosed) if document]
    numbers = {_number_of(document) for _, document in credentials}
    verdict, meaning, entry = judge_file(paper.data, numbers, entries)
    checks = [
        Check(paper.name, "file as issued", verdict, meaning),
        Check(paper.name, "signature", *_signature(paper.data, handed_in.keys, entry)),
    ]
    for data, document in credentials:
        inner = f"{paper.name}, enclosed data"
        checks += _credential_checks(inner, data, document, handed_in.keys, entries)
        checks.append(Check(inner, "record enclosed", *_record(document, enclosed)))
    if any(_is_for_evaluation(data) for data in enclosed):
        text = (
            "Signed with evaluation keys, made for trying the program out: they vouch for nobody."
        )
        checks.append(Check(paper.name, "who vouches for the keys", UNSAID, text))
    if not credentials:
        text = "No data with a proof of their own were found in it."
        checks.append(Check(paper.name, "enclosed data", UNSAID, text))
    return checks


def _signature(data: bytes, keys: HouseKeys, entry: ProvedEntry | None) -> tuple[str, str]:
    try:
        found = read_signed_range(data)
        if found is None:
            return FAILS, "It bears no signature."
        signature = read_paper_signature(found.cms)
    except UnknownKindError as problem:
        return UNSAID, f"It bears a signature of a kind that this tool cannot judge: {problem}."
    except NotReadableError as problem:
        return FAILS, f"Its signature is not valid: {problem}."
    fault = fault_of_signature(signature, signed_digest=found.digest)
    if fault:
        return FAILS, fault
    # Where the journal names the whole file, what follows the signature was there when it left.
    if found.bytes_after and entry is None:
        return UNSAID, (
            f"The signature holds, but {found.bytes_after} bytes were added after it: a later time "
            "stamp, or something that nobody signed. This tool cannot tell which."
        )
    return _by_whom(signature, keys, entry)


def _by_whom(
    signature: PaperSignature, keys: HouseKeys, entry: ProvedEntry | None
) -> tuple[str, str]:
    point = signature.signer.point
    known = next((key for key in keys.of("paper") if key.public == point), None)
    if known is not None:
        fault = fault_of_time(known, journalled_at=entry.at if entry else "")
        text = f"Signed with the key {known.name}, and not changed since."
        return (FAILS, fault) if fault else (HOLDS, text)
    if keys.roots and is_vouched_for(signature.signer, keys.roots):
        return HOLDS, "Signed with a key that the house’s root vouches for, and not changed since."
    if keys.roots or keys.of("paper"):
        return FAILS, "It was signed with a key that is not the house’s."
    return UNSAID, "Not changed since it was signed; but no key of the house was handed in."


def _credential_checks(
    name: str,
    data: bytes,
    document: dict[str, Any],
    keys: HouseKeys,
    entries: Sequence[ProvedEntry],
) -> list[Check]:
    entry = issue_naming(entries, "credential", data)
    number = _number_of(document)
    if entry is not None:
        named = (HOLDS, f"The journal names these data under {entry.subject}.")
    elif any(e.subject == number and "credential_sha256" in e.detail for e in entries):
        named = (FAILS, "They are not the data that were issued under this number.")
    else:
        named = (UNSAID, "No proof was handed in that names these data.")
    return [
        Check(name, "proof of the data", *_proof(document, keys, entry)),
        Check(name, "data as issued", *named),
    ]


def _proof(document: dict[str, Any], keys: HouseKeys, entry: ProvedEntry | None) -> tuple[str, str]:
    try:
        address = key_named_in(document)
    except NotReadableError as problem:
        return FAILS, f"They are not signed as they must be: {problem}."
    known = _credential_key(address, keys)
    if known is None and not keys.of("credential"):
        return UNSAID, "No key of the house for data was handed in."
    if known is None:
        return FAILS, f"They name a key that is not the house’s: {address}."
    if not is_proved_by(document, known.public):
        return FAILS, "They were changed after they were signed."
    fault = fault_of_time(known, journalled_at=entry.at if entry else "")
    text = f"Signed with the key {address}, and not changed since."
    return (FAILS, fault) if fault else (HOLDS, text)


def _credential_key(address: str, keys: HouseKeys) -> HouseKey | None:
    """Find a key by its address, or by the last part of it: so a JWK set names keys."""
    names = (address, address.partition("#")[2])
    return next((key for key in keys.of("credential") if key.name in names), None)


def _record(document: dict[str, Any], enclosed: Sequence[bytes]) -> tuple[str, str]:
    subject = document["credentialSubject"]
    record = subject.get("record") if isinstance(subject, dict) else None
    digest = record.get("sha256") if isinstance(record, dict) else None
    if digest is None:
        return UNSAID, "The data name no record."
    if digest in {hashlib.sha256(data).hexdigest() for data in enclosed}:
        return HOLDS, "The whole record that the data name is enclosed, unchanged."
    if any(_as_credential(data)[1] is None for data in enclosed):
        return FAILS, "The record that is enclosed is not the one that the data name."
    return UNSAID, "The record that the data name is not enclosed."


def _as_credential(data: bytes) -> tuple[bytes, dict[str, Any] | None]:
    try:
        document = read_json(data)
    except NotReadableError:
        return data, None
    is_one = isinstance(document, dict) and {"proof", "credentialSubject"} <= document.keys()
    return data, document if is_one else None


def _is_for_evaluation(data: bytes) -> bool:
    """Tell whether an enclosed record says that its keys are for evaluation."""
    try:
        record = read_json(data)
    except NotReadableError:
        return False
    keys = record.get("keys") if isinstance(record, dict) else None
    return isinstance(keys, dict) and keys.get("is_evaluation") is True


def _number_of(document: dict[str, Any]) -> str:
    subject = document["credentialSubject"]
    certificate = subject.get("certificate") if isinstance(subject, dict) else None
    return str(certificate.get("number")) if isinstance(certificate, dict) else ""
