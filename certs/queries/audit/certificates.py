"""Holds every issued certificate against its snapshot, its files, and the acts that moved it."""

import json
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from certs.models import Certificate
from certs.queries.audit.scratch import Scratch
from certs.rules.certificate_life import CertificateState
from certs.rules.credential import fault_of
from certs.rules.did_web import key_address
from certs.rules.disagreement import Disagreement, What
from certs.rules.roles import ClaimAct
from inventory.rules.canonical import canonical_text, sha256_hex

CHUNK = 200
EACH = 500
# What the entry of issue says of the row, by the same name.
_SAID = ("snapshot_sha256", "pdf_sha256", "credential_sha256")


def certificates_as_issued(
    scratch: Scratch, *, keys: Mapping[str, bytes], tell: Callable[[str], None]
) -> Iterator[Disagreement]:
    """Judge each certificate that was ever issued.

    Args:
        keys: the public keys of credentials by the name of the key.
    """
    issued = Certificate.objects.exclude(state=CertificateState.DRAFT.value).order_by("pk")
    related = issued.select_related("pdf", "replaces", "replaced_by")
    for count, certificate in enumerate(related.iterator(chunk_size=CHUNK), 1):
        where = f"certificate {certificate.number}"
        yield from _content(certificate, where)
        yield from _credential(certificate, where, keys)
        yield from _issue(certificate, where, scratch)
        yield from _end(certificate, where, scratch)
        if count % EACH == 0:
            tell(f"{count} certificates")


def _content(certificate: Certificate, where: str) -> Iterator[Disagreement]:
    """Compare snapshot and PDF with their hashes, and the snapshot with the row."""
    hashed = sha256_hex(certificate.snapshot.encode())
    if hashed != certificate.snapshot_sha256:
        expected = certificate.snapshot_sha256
        yield Disagreement(What.CERTIFICATE, f"{where}, snapshot", expected, hashed)
    pdf = certificate.pdf.sha256 if certificate.pdf else "no file"
    if pdf != certificate.pdf_sha256:
        yield Disagreement(What.CERTIFICATE, f"{where}, PDF", certificate.pdf_sha256, pdf)
    facts = _read(certificate.snapshot)
    replaced = facts.get("replaces") or {}
    old = certificate.replaces.number if certificate.replaces else None
    for name, said, column in (
        ("number", facts.get("number"), certificate.number),
        ("replaces", replaced.get("number") if isinstance(replaced, dict) else replaced, old),
    ):
        if said != column:
            yield Disagreement(What.CERTIFICATE, f"{where}, {name}", str(said), str(column))


def _credential(
    certificate: Certificate, where: str, keys: Mapping[str, bytes]
) -> Iterator[Disagreement]:
    if not certificate.credential:
        return
    hashed = sha256_hex(certificate.credential.encode())
    if hashed != certificate.credential_sha256:
        expected = certificate.credential_sha256
        yield Disagreement(What.CREDENTIAL, f"{where}, credential", expected, hashed)
    document = _read(certificate.credential)
    # A house that moved to another address signed under the one of its day.
    issuer = str(document.get("issuer"))
    fault = fault_of(document, keys={key_address(issuer, name): keys[name] for name in keys})
    if fault:
        yield Disagreement(What.CREDENTIAL, f"{where}, credential", "a proof that holds", fault)
    subject = document.get("credentialSubject")
    record = subject.get("record") if isinstance(subject, dict) else None
    bound = record.get("sha256") if isinstance(record, dict) else None
    if bound != certificate.snapshot_sha256:
        expected = f"of the snapshot {certificate.snapshot_sha256}"
        yield Disagreement(What.CREDENTIAL, f"{where}, credential", expected, f"of {bound}")


def _issue(certificate: Certificate, where: str, scratch: Scratch) -> Iterator[Disagreement]:
    """Compare the row with what the entry of its issue says."""
    entry = scratch.said(ClaimAct.ISSUE_CERTIFICATE.value, str(certificate.number))
    if entry is None:
        yield Disagreement(What.CERTIFICATE, where, "an entry that it was issued", "none")
        return
    number, text = entry
    told = json.loads(text)
    old = certificate.replaces.number if certificate.replaces else None
    columns = {name: getattr(certificate, name) for name in _SAID if name in told}
    columns |= {"draft": certificate.draft_code, "replaces": old}
    for name, column in columns.items():
        if told.get(name) != column:
            expected = f"{told.get(name)} as of journal entry {number}"
            yield Disagreement(What.CERTIFICATE, f"{where}, {name}", expected, str(column))


def _end(certificate: Certificate, where: str, scratch: Scratch) -> Iterator[Disagreement]:
    """Compare the state with the acts that lead to it."""
    withdrawn = scratch.said(ClaimAct.WITHDRAW_CERTIFICATE.value, str(certificate.number))
    successor = getattr(certificate, "replaced_by", None)
    is_replaced = successor is not None and successor.state != CertificateState.DRAFT.value
    if withdrawn:
        expected = CertificateState.WITHDRAWN
    elif is_replaced:
        expected = CertificateState.SUPERSEDED
    else:
        expected = CertificateState.ISSUED
    if certificate.state != expected.value:
        found = certificate.state
        yield Disagreement(What.CERTIFICATE, f"{where}, state", expected.value, found)


def _read(text: str) -> dict[str, Any]:
    """Read canonical JSON; what is none says nothing."""
    try:
        found = json.loads(text)
        is_whole = isinstance(found, dict) and canonical_text(found) == text
    except (TypeError, ValueError):
        return {}
    return found if is_whole else {}
