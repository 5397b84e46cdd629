"""Decides how a rope is told in words: what its designation says, and what was assumed."""

from inventory.models import Reel
from inventory.pages.facts import Fact, told
from inventory.rules.designation import parse_designation
from inventory.rules.rope_designation import LAY_WORDS

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
    return _facts(
        designation=rope.text,
        diameter=f"{rope.diameter} {rope.diameter_unit}",
        parts=(rope.construction, rope.core, rope.grade, rope.finish, rope.lay),
        assumed=rope.assumed,
    )


def facts_of_rope(reel: Reel) -> list[Fact]:
    """Return what the designation of a reel says, part by part."""
    return _facts(
        designation=reel.designation,
        diameter="",
        parts=(reel.construction, reel.rope_core, reel.grade, reel.finish, reel.lay),
        assumed=frozenset(reel.assumed_parts),
    )


def _facts(
    *,
    designation: str,
    diameter: str,
    parts: tuple[str, str, str, str, str],
    assumed: frozenset[str],
) -> list[Fact]:
    construction, core, grade, finish, lay = parts

    def note(part: str) -> str:
        return _ASSUMED if part in assumed else ""

    return told(
        Fact("Rope designation", designation),
        Fact("Diameter", diameter),
        Fact("Construction", construction, note=note("construction")),
        Fact("Core", core, note=note("core")),
        Fact("Grade", grade),
        Fact("Finish", f"{finish}: {_FINISH_WORDS.get(finish, finish)}", note=note("finish")),
        Fact("Lay", f"{lay}: {LAY_WORDS.get(lay, lay)}", note=note("lay")),
        Fact("Preforming", "assumed preformed" if "preforming" in assumed else ""),
    )
