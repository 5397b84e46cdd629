"""Finds the reel that is meant by what a scanner read, or hands typed, at the cutting bench."""

from certs.rules.asked_text import asked_text
from inventory.models import Reel
from inventory.queries.things import reel_of_code
from inventory.rules.refusal import Refusal

_MOST = 4


class NoReelMeant(Refusal):
    """What was scanned or typed is no reel."""


def names_a_reel(text: str) -> bool:
    """Tell whether a text is a reel's code or an address, and so surely no length."""
    return asked_text(text).code.startswith("R-") or "://" in text


def reel_scanned(text: str) -> Reel:
    """Return the reel of a code, of the address on a reel's label, or of the mill's reel number.

    Raises:
        NoReelMeant: the code of something else, of nothing, or a mill's number of several reels.
    """
    asked = asked_text(text)
    if asked.code.startswith("R-"):
        reel = reel_of_code(asked.code)
        if reel is None:
            raise _none(f"There is no reel {asked.code} on record. Look at its label again.")
        return reel
    found = list(Reel.objects.filter(mill_reel_number__iexact=asked.text).order_by("code")[:_MOST])
    if len(found) > 1:
        codes = ", ".join(reel.code for reel in found[: _MOST - 1])
        more = " and more" if len(found) == _MOST else ""
        raise _none(f"“{asked.text}” is the mill’s number of {codes}{more}. Type the code of one.")
    reel = reel_of_code(found[0].code) if found else None
    if reel is None:
        raise _none(_instead(asked.text, is_tag=bool(asked.tag), code=asked.code))
    return reel


def _instead(text: str, *, is_tag: bool, code: str) -> str:
    if is_tag:
        return "This is the code of a tag, and so of goods that left a reel. Scan the reel’s label."
    if code:
        return f"{code} is no reel. Scan the label on the reel, or type its code, such as R-00012."
    return f"No reel has “{text}”. Scan the label on the reel, or type its code, such as R-00012."


def _none(message: str) -> NoReelMeant:
    return NoReelMeant(message, field="reel")
