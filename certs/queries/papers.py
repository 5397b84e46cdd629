"""Finds the papers that speak of a piece or an assembly, as anyone may see them."""

import json
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Any

from django.db.models import QuerySet
from django.utils.timezone import localdate

from certs.models import Certificate
from certs.rules.said import Said, Typed
from inventory.models import Assembly, CutPiece
from inventory.rules.canonical import sha256_hex


@dataclass(frozen=True)
class Paper:
    """One issued certificate; `ended_text` says what became of it, empty while in force."""

    number: str
    title: str
    document_kind: str
    state: str
    issued_at: datetime
    pdf_sha256: str
    ended_text: str
    replaced_by: str
    text: str
    text_sha256: str
    is_evaluation: bool

    @classmethod
    def of(cls, certificate: Certificate) -> "Paper":
        """State an issued certificate."""
        later = getattr(certificate, "replaced_by", None)
        return cls(
            number=str(certificate.number),
            title=certificate.get_kind_display(),
            document_kind=certificate.document_kind,
            state=certificate.state,
            issued_at=certificate.issued_at or certificate.drafted_at,
            pdf_sha256=certificate.pdf_sha256,
            ended_text=_ended_text(certificate),
            replaced_by=str(later.number) if later is not None and later.number else "",
            text=certificate.snapshot,
            text_sha256=certificate.snapshot_sha256,
            is_evaluation=certificate.is_evaluation,
        )

    @property
    def is_in_force(self) -> bool:
        """Tell whether the paper may be relied on, as far as the paper itself goes."""
        return self.state == Certificate.State.ISSUED

    @cached_property
    def is_whole(self) -> bool:
        """Tell whether the snapshot is still the one that was issued."""
        return sha256_hex(self.text.encode()) == self.text_sha256

    @cached_property
    def snapshot(self) -> dict[str, Any]:
        """Give the frozen snapshot as JSON. Ask `is_whole` before relying on it."""
        parsed: dict[str, Any] = json.loads(self.text)
        return parsed


def papers_of_piece(piece: CutPiece) -> list[Paper]:
    """Give the issued papers that name a piece, the latest first."""
    return _papers(Certificate.objects.filter(piece_ties__piece=piece))


def papers_of_assembly(assembly: Assembly) -> list[Paper]:
    """Give the issued papers of an assembly, the latest first."""
    return _papers(Certificate.objects.filter(assembly=assembly))


def _papers(certificates: QuerySet[Certificate]) -> list[Paper]:
    issued = certificates.exclude(state=Certificate.State.DRAFT).select_related("replaced_by")
    return [Paper.of(certificate) for certificate in issued.order_by("-issued_at", "-id")]


def _ended_text(certificate: Certificate) -> str:
    if certificate.ended_at is None:
        return ""
    # The states in which a paper has ended, each in the words that are said in other languages.
    words = {
        Certificate.State.SUPERSEDED.value: "{paper} was superseded on {day}: {reason}",
        Certificate.State.WITHDRAWN.value: "{paper} was withdrawn on {day}: {reason}",
    }
    return Said(
        words[certificate.state],
        paper=str(certificate.number),
        day=localdate(certificate.ended_at),
        reason=Typed(certificate.end_reason),
    )
