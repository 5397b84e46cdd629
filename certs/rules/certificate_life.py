"""The life of a certificate: its states and the only moves between them.

Who may move it, and what must be ready before, is decided by services.
"""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from inventory.rules.refusal import Refusal


class CertificateState(StrEnum):
    """Where a certificate stands."""

    DRAFT = "draft"
    ISSUED = "issued"
    SUPERSEDED = "superseded"
    WITHDRAWN = "withdrawn"


# What was issued is never a draft again, and what has ended stays ended: a correction is a new
# certificate (ISO/IEC 17025:2017 7.8.8).
MOVES: Final[Mapping[CertificateState, frozenset[CertificateState]]] = MappingProxyType(
    {
        CertificateState.DRAFT: frozenset({CertificateState.ISSUED}),
        CertificateState.ISSUED: frozenset(
            {CertificateState.SUPERSEDED, CertificateState.WITHDRAWN}
        ),
        CertificateState.SUPERSEDED: frozenset(),
        CertificateState.WITHDRAWN: frozenset(),
    }
)


def may_move(*, frm: CertificateState, to: CertificateState) -> bool:
    """Tell whether a certificate may go from one state to another."""
    return to in MOVES[frm]


def check_move(frm: CertificateState, to: CertificateState) -> None:
    """Raise `Refusal` unless a certificate may go from one state to another."""
    if may_move(frm=frm, to=to):
        return
    allowed = " or ".join(sorted(MOVES[frm]))
    then = f"it can only become {allowed}" if allowed else "that is its last state"
    message = f"This certificate is {frm} and cannot become {to}: {then}."
    raise Refusal(message, field="state")
