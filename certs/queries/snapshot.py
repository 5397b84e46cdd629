"""Makes the snapshot of a certificate: everything the paper will say, from the record.

The snapshot is plain JSON without floats, so that its canonical form (RFC 8785) is one text and
has one hash. Measured and derived values are whole units or text.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from django.utils import timezone

from certs.models import Certificate, Representative
from certs.queries.assembly_facts import assembly_facts
from certs.queries.evidence import decide_for, supporting_proof_tests
from certs.queries.letterhead import Head
from certs.queries.receiving_facts import receiving_facts
from certs.queries.rope_facts import map_facts, piece_facts, rope_facts
from certs.queries.strength import is_sling
from certs.queries.subject import Subject, subject_of
from certs.queries.test_facts import breaking_test_facts, proof_test_facts
from certs.rules.cautions import cautions_for, statements_for
from certs.rules.end_cautions import cautions_of_ends
from certs.rules.termination import TerminationKind
from inventory.documents.qr import tag_address
from inventory.models import Assembly, Party, Person, Termination
from inventory.rules.checkpoint import LogHead

FORMAT = "rope-record/certificate/1"

TITLES = {
    Certificate.Kind.CUT_LENGTH.value: "Certificate for cut lengths of wire rope",
    Certificate.Kind.ASSEMBLY.value: "Test certificate of a wire-rope assembly",
    Certificate.Kind.BREAKING.value: "Breaking-force test report",
}
DOCUMENT_WORDS = {
    "statement": "Statement of traceability; goes with the maker’s inspection document",
    "2.1": "EN 10204:2004, type 2.1: declaration of compliance with the order",
    "2.2": "EN 10204:2004, type 2.2: test report",
    "3.1": "EN 10204:2004, type 3.1: inspection certificate",
    "3.2": "EN 10204:2004, type 3.2: inspection certificate",
    "laboratory": "Test report on the sample tested",
}


@dataclass(frozen=True, slots=True)
class Issuing:
    """What is known only when a certificate is issued."""

    number: str
    tag_code: str
    at: datetime
    by: Person
    issuer: Head
    origin: str
    # The last checkpoint before; the paper's own entry is not in it yet.
    log: LogHead | None = None
    # The keys that sign it, by purpose, and whether they are for evaluation.
    keys: Mapping[str, Any] | None = None


def build_snapshot(certificate: Certificate, issuing: Issuing) -> dict[str, Any]:
    """Make the whole snapshot of a certificate as it would be issued.

    Raises:
        NoBasis: the breaking force of a reel cannot be derived.
    """
    subject = subject_of(certificate)
    return {
        **_head(certificate, issuing),
        **_validation(certificate, subject, issuing),
        "pieces": piece_facts(subject) if certificate.kind != "breaking" else [],
        "ropes": rope_facts(subject),
        "receiving": receiving_facts(subject) if certificate.kind != "breaking" else [],
        "reel_maps": map_facts(subject),
        "assembly": _assembly(certificate),
        "proof_tests": [proof_test_facts(t) for t in supporting_proof_tests(certificate.assembly)],
        "breaking_tests": [breaking_test_facts(certificate.breaking_test)]
        if certificate.breaking_test
        else [],
        "cautions": list(_cautions(certificate)),
    }


def _head(certificate: Certificate, issuing: Issuing) -> dict[str, Any]:
    return {
        "format": FORMAT,
        "number": issuing.number,
        "kind": certificate.kind,
        "title": TITLES[certificate.kind],
        "document_kind": certificate.document_kind,
        "document_kind_text": DOCUMENT_WORDS[certificate.document_kind],
        "issued_at": issuing.at.astimezone(UTC).isoformat(timespec="seconds"),
        "issued_by": _person(issuing.by),
        "issuer": issuing.issuer.as_json(),
        "language": certificate.language,
        "customer": _customer(certificate.customer, certificate.customer_reference),
        "tag": {
            "code": issuing.tag_code,
            "address": tag_address(origin=issuing.origin, code=issuing.tag_code),
        },
        "replaces": certificate.replaces
        and {"number": certificate.replaces.number, "reason": certificate.replace_reason},
        "remarks": certificate.remarks,
        "log": issuing.log
        and {
            "origin": issuing.log.origin,
            "size": issuing.log.size,
            "root": issuing.log.root.hex(),
        },
        "keys": dict(issuing.keys) if issuing.keys else None,
    }


def _assembly(certificate: Certificate) -> dict[str, Any] | None:
    if certificate.assembly is None:
        return None
    return assembly_facts(certificate.assembly, marked_kg=certificate.marked_kg)


def _validation(certificate: Certificate, subject: Subject, issuing: Issuing) -> dict[str, Any]:
    decision = decide_for(certificate, traces=subject.traces, on=timezone.localdate(issuing.at))
    chosen = [certificate.first_validator, certificate.second_validator]
    return {
        "validators": [_validator(person) for person in chosen if person is not None],
        "evidence": {
            "reason": decision.reason,
            "must_state": list(decision.must_state),
            "source": decision.source,
            "confidence": decision.confidence,
        },
        "statements": list(
            statements_for(kind=certificate.kind, document_kind=certificate.document_kind)
        ),
    }


def _cautions(certificate: Certificate) -> tuple[str, ...]:
    assembly = certificate.assembly
    if assembly is None:
        return cautions_for(is_sling=False, is_rope_only=True)
    fitted = Termination.objects.filter(assembly_piece__assembly=assembly)
    kinds = (TerminationKind(kind) for kind in fitted.values_list("kind", flat=True))
    usual = cautions_for(
        is_sling=is_sling(assembly),
        is_rope_only=False,
        is_static=assembly.use == Assembly.Use.STATIC,
    )
    return (*cautions_of_ends(kinds), *usual)


def _person(person: Person) -> dict[str, str]:
    return {"name": str(person), "role": person.get_role_display()}


def _customer(customer: Party | None, reference: str) -> dict[str, str] | None:
    if customer is None:
        return None
    return {
        "code": customer.code,
        "name": customer.name,
        "address": customer.address,
        "reference": reference,
    }


def _validator(representative: Representative) -> dict[str, str]:
    return {
        "name": str(representative.person),
        "organisation": representative.organisation,
        "capacity": representative.get_capacity_display(),
    }
