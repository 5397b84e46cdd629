"""Decides how an act is told to whoever reads what happened: what was done, in the past."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

_TOLD: Final[Mapping[str, str]] = MappingProxyType(
    {
        "record_heat": "heat recorded",
        "file_mill_document": "mill document filed",
        "receive_reel": "reel received",
        "move_reel": "reel moved",
        "check_reel": "checked at goods in",
        "read_reel": "length left on the reel read",
        "name_basis": "basis of its force named",
        "cut_piece": "cut",
        "reverse_cut": "cut taken back",
        "rewind_reel": "wound on to another reel",
        "take_back_piece": "taken back from the customer",
        "receive_fittings": "fittings received",
        "build_assembly": "assembly built",
        "record_breaking_test": "sample broken",
        "record_proof_test": "proof load put on",
        "record_wire_test": "wires tested",
        "reverse_test": "test taken back",
        "draft_certificate": "paper drafted",
        "discard_draft": "draft thrown away",
        "issue_certificate": "paper issued",
        "withdraw_certificate": "paper withdrawn",
        "renew_paper": "paper stamped with the time again",
        "issue_tag": "tag issued",
        "revoke_tag": "tag revoked",
        "record_delivery": "delivered",
        "place_hold": "hold placed",
        "release_hold": "hold released",
        "write_recall write": "recall letter written",
        "write_recall send": "recall letter sent",
        "write_recall acknowledge": "recall letter answered",
        "settle_report receive": "reported from site",
        "settle_report hold": "put on hold for a report from site",
        "settle_report close": "report from site closed",
        "settle_report forget_contact": "contact of a reporter forgotten",
        "take_bundle": "bundle taken for an audit",
    }
)


def told_act(act: str, deed: str = "") -> str:
    """Return what was done, in words; an act without words of its own by its name.

    Args:
        act: as the journal names it.
        deed: which of several things the act was, where its entry says so.
    """
    named = f"{act} {deed}" if deed else act
    return _TOLD.get(named) or _TOLD.get(act) or act.replace("_", " ")
