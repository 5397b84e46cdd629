"""Withdraws an issued certificate: it stays readable and says from now on that it is void."""

from datetime import datetime

from django.db import transaction

from certs.models import Certificate
from certs.rules.certificate_life import CertificateState, check_move
from certs.rules.roles import ClaimAct
from certs.services.authority import require
from inventory.models import Person
from inventory.rules.refusal import Refusal
from inventory.services.guarded import check_fields
from inventory.services.journal import append, text_hash


class CannotWithdraw(Refusal):
    """The certificate cannot be withdrawn."""


def withdraw_certificate(
    *, certificate: Certificate, reason: str, by: Person, at: datetime
) -> Certificate:
    """Withdraw a certificate for a reason that its tag page will show.

    Raises:
        NotAllowed: the person's role withdraws nothing.
        CannotWithdraw: no reason.
        Refusal: the certificate is not in force.
    """
    require(by=by, act=ClaimAct.WITHDRAW_CERTIFICATE)
    if not reason.strip():
        raise CannotWithdraw("Say why the certificate is withdrawn.", field="reason")
    with transaction.atomic():
        locked = Certificate.objects.select_for_update(of=("self",)).get(pk=certificate.pk)
        end_certificate(
            locked, state=CertificateState.WITHDRAWN, reason=reason.strip(), by=by, at=at
        )
        append(
            at=at,
            by=by,
            act=ClaimAct.WITHDRAW_CERTIFICATE,
            subject=str(locked.number),
            detail={"reason_sha256": text_hash(locked.end_reason)},
            rows=[locked],
        )
    return locked


def end_certificate(
    certificate: Certificate, *, state: CertificateState, reason: str, by: Person, at: datetime
) -> None:
    """Move an issued certificate, already locked, to its last state."""
    check_move(CertificateState(certificate.state), state)
    certificate.state = state.value
    certificate.ended_at, certificate.ended_by, certificate.end_reason = at, by, reason
    check_fields(certificate, refusal=CannotWithdraw)
    certificate.save(update_fields=["state", "ended_at", "ended_by", "end_reason"])
