"""Plays the QA officer: drafts, issues, corrects and withdraws certificates, and hands out tags."""

from collections.abc import Sequence

from certs.management.demo.stage import Stage
from certs.models import BreakingTest, Certificate
from certs.services.drafts import (
    Wording,
    draft_assembly,
    draft_breaking,
    draft_correction,
    draft_cut_length,
    wording_of,
)
from certs.services.issue import issue_certificate
from certs.services.tags import issue_tag, revoke_tag
from certs.services.withdraw import withdraw_certificate
from inventory.models import CutPiece, Party
from inventory.services.deliver import record_delivery

KINDS = Certificate.DocumentKind


def issue(stage: Stage, key: str, draft: Certificate) -> Certificate:
    """Issue a draft and remember it."""
    issued = issue_certificate(certificate=draft, by=stage.people["qa"], at=stage.calendar.moment())
    stage.certificates[key] = issued
    return issued


def draft_for_pieces(
    stage: Stage, pieces: Sequence[CutPiece], *, customer: Party, reference: str = ""
) -> Certificate:
    """Draft a statement for cut pieces; the mill's document goes with it."""
    return draft_cut_length(
        pieces=pieces,
        wording=Wording(KINDS.STATEMENT, customer, reference),
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )


def certify_orders(stage: Stage, *, reels: Sequence[str], count: int) -> None:
    """Issue certificates for pieces of orders, one for each reel, and tag the pieces.

    A piece of another reel of the same order goes on a certificate of its own.
    """
    wanted = {stage.reels[number].pk: number for number in reels}
    done = 0
    for order in stage.orders:
        for reel_id, number in wanted.items():
            pieces = [piece for piece in stage.supplied if _is_of(piece, order.pk, reel_id)]
            key = f"{order.code} {number}"
            if done < count and pieces and key not in stage.certificates:
                draft = draft_for_pieces(
                    stage, pieces, customer=order.customer, reference=order.customer_reference
                )
                issue(stage, key, draft)
                tag_pieces(stage, pieces)
                done += 1


def draft_for_assembly(
    stage: Stage,
    key: str,
    *,
    customer: str,
    kind: str = KINDS.CERTIFICATE_31,
    witnesses: Sequence[str] = ("inspector",),
    marked_kg: int | None = None,
) -> Certificate:
    """Draft the certificate of an assembly, with none, one or two who validate it."""
    chosen = [stage.representatives[name] for name in witnesses]
    wording = Wording(
        kind,
        stage.parties[customer],
        first_validator=chosen[0] if chosen else None,
        second_validator=chosen[1] if len(chosen) > 1 else None,
        marked_kg=marked_kg,
    )
    return draft_assembly(
        assembly=stage.assemblies[key],
        wording=wording,
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )


def certify_assembly(
    stage: Stage,
    key: str,
    *,
    customer: str,
    kind: str = KINDS.CERTIFICATE_31,
    witnesses: Sequence[str] = ("inspector",),
    marked_kg: int | None = None,
) -> None:
    """Issue the certificate of an assembly, tag it and deliver it."""
    draft = draft_for_assembly(
        stage, key, customer=customer, kind=kind, witnesses=witnesses, marked_kg=marked_kg
    )
    issue(stage, key, draft)
    issue_tag(assembly=stage.assemblies[key], by=stage.people["stores"], at=stage.calendar.moment())
    record_delivery(
        customer=stage.parties[customer],
        pieces=[],
        assemblies=[stage.assemblies[key]],
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )


def report_break(stage: Stage, key: str, test: BreakingTest, *, customer: str) -> None:
    """Issue the report of a breaking-force test, passed or failed."""
    draft = draft_breaking(
        breaking_test=test,
        wording=Wording(KINDS.LABORATORY, stage.parties[customer]),
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )
    issue(stage, key, draft)


def correct(stage: Stage, old: Certificate, *, key: str, reason: str) -> Certificate:
    """Issue a correction; with it the old certificate is superseded."""
    draft = draft_correction(
        certificate=old,
        reason=reason,
        wording=wording_of(old),
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )
    return issue(stage, key, draft)


def withdraw(stage: Stage, certificate: Certificate, *, reason: str) -> None:
    """Withdraw a certificate."""
    withdraw_certificate(
        certificate=certificate,
        reason=reason,
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )


def tag_pieces(stage: Stage, pieces: Sequence[CutPiece]) -> None:
    """Put a tag on each piece."""
    for piece in pieces:
        issue_tag(piece=piece, by=stage.people["stores"], at=stage.calendar.moment())


def replace_a_tag(stage: Stage, key: str) -> None:
    """Revoke the tag of an assembly that was damaged, and hang a new one on it."""
    assembly = stage.assemblies[key]
    revoke_tag(
        tag=assembly.tags.get(),
        reason="Torn off on site; a new tag was sent.",
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )
    issue_tag(assembly=assembly, by=stage.people["stores"], at=stage.calendar.moment())


def _is_of(piece: CutPiece, order_id: int, reel_id: int) -> bool:
    line = piece.order_line
    return piece.reel_id == reel_id and line is not None and line.order_id == order_id
