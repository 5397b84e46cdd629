"""Decides how a rope is told in words: what its designation says, and what was assumed."""

from inventory.models import Reel
from inventory.pages.facts import Fact, told
from inventory.rules.designation import parse_designation
from inventory.rules.rope_designation import LAY_WORDS, RopeDesignation

_FINISH_WORDS = {
    "U": "bright, uncoated",
    "A": "zinc, class A",
    "B": "zinc, class B",
    "AB": "zinc, class AB",
    "A(Zn/Al)": "zinc-aluminium, class A",
    "B(Zn/Al)": "zinc-aluminium, class B",
}
_ASSUMED = "not stated; assumed"


def facts_of_designation(text: str) -> list[Fact]:
    """Return what a designation says, part by part.

    Raises:
        DesignationError: it is not understood.
    """
    rope = parse_designation(text)
    return _facts(rope, assumed=rope.assumed)


def facts_of_rope(reel: Reel) -> list[Fact]:
    """Return what the designation of a reel says; what was assumed was assumed at receipt."""
    return _facts(parse_designation(reel.designation), assumed=frozenset(reel.assumed_parts))


def _facts(rope: RopeDesignation, *, assumed: frozenset[str]) -> list[Fact]:
    def note(part: str) -> str:
        return _ASSUMED if part in assumed else ""

    return told(
        Fact("Rope designation", rope.text),
        Fact("Diameter", f"{rope.diameter} {rope.diameter_unit}"),
        Fact("Construction", rope.construction, note=note("construction")),
        Fact("Core", rope.core or "none", note=note("core")),
        Fact("Grade", rope.grade),
        Fact("Finish", f"{rope.finish}: {_FINISH_WORDS[rope.finish]}", note=note("finish")),
        Fact("Lay", f"{rope.lay}: {LAY_WORDS[rope.lay]}", note=note("lay")),
    )
