"""Whether grade, steel and finish of a received rope go together.

The mark on the reel must be the grade of the designation, letter by letter: names are never
converted. Which grade is usual for which steel and finish is habit of the trade: it warns.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from certs.rules.derived import Given, Source
from certs.rules.finding import Finding, Verdict
from certs.rules.rope_grade import GradeName, grade_information

MARK_TOPIC = "Marked grade"
USUAL_TOPIC = "Grade, steel and finish"
MARK_RULE = "the marked grade is that of the designation, and no name is converted"
USUAL_RULE = "grades usual for the steel and the finish"
AS_RECORDED = Source(name="mark on the reel and its designation", confidence="as recorded")
USUAL = Source(
    name="habit of the trade: stainless rope is generally 1570, galvanised 1770 to 1960",
    confidence="common practice, no source",
)
BRIGHT = "U"
STAINLESS_GRADES = (1570, 1570)
GALVANISED_GRADES = (1770, 1960)


@dataclass(frozen=True, slots=True)
class SteelKind:
    """A heat of the rope, and whether its steel is stainless; None where that is not known."""

    heat: str
    steel: str
    is_stainless: bool | None


def mark_finding(*, designated: str, marked: str, names: Sequence[GradeName]) -> Finding:
    """Compare the mark on the reel with the grade of its designation."""
    given = (Given("designation", "grade", designated, ""), Given("mark", "grade", marked, ""))
    information = grade_information(designated, names)
    if not marked:
        text = f"No grade is marked on the reel; its designation says {designated}."
        return Finding(MARK_TOPIC, Verdict.CANNOT_SAY, text, MARK_RULE, AS_RECORDED, given[:1])
    is_same = marked == designated
    both = f"Mark and designation both say {designated}."
    differ = f"The reel is marked {marked}, its designation says {designated}."
    return Finding(
        topic=MARK_TOPIC,
        verdict=Verdict.AGREE if is_same else Verdict.DISAGREE,
        text=both if is_same else differ,
        rule=MARK_RULE,
        source=AS_RECORDED,
        given=given,
        warnings=information,
    )


def usual_finding(*, grade: str, finish: str, steels: Sequence[SteelKind]) -> Finding:
    """Hold grade and finish against what is usual for the steels; it never disagrees."""
    given = (
        Given("grade", "of the designation", grade, ""),
        Given("finish", "of the designation", finish, ""),
        *(Given(f"heat {one.heat}", "steel", one.steel, "") for one in steels),
    )
    verdict, text = _usual(grade=grade, finish=finish, steels=steels)
    return Finding(USUAL_TOPIC, verdict, text, USUAL_RULE, USUAL, given)


def _usual(*, grade: str, finish: str, steels: Sequence[SteelKind]) -> tuple[Verdict, str]:
    kinds = {one.is_stainless for one in steels}
    if not steels or None in kinds:
        unknown = ", ".join(one.steel for one in steels if one.is_stainless is None)
        text = f"Whether {unknown or 'the steel'} is stainless is not known here."
        return Verdict.CANNOT_SAY, text
    if len(kinds) > 1:
        return Verdict.CANNOT_SAY, "Heats of stainless and of other steel are in one rope: ask."
    is_stainless = kinds == {True}
    if is_stainless and finish != BRIGHT:
        text = f"The steel is stainless, and finish {finish} is a coating of zinc: ask which holds."
        return Verdict.CANNOT_SAY, text
    if not is_stainless and finish == BRIGHT:
        return Verdict.CANNOT_SAY, "Nothing is held on grades of bright rope."
    return _within(grade, is_stainless=is_stainless)


def _within(grade: str, *, is_stainless: bool) -> tuple[Verdict, str]:
    least, most = STAINLESS_GRADES if is_stainless else GALVANISED_GRADES
    kind = "stainless" if is_stainless else "galvanised"
    span = f"{least}" if least == most else f"{least} to {most}"
    if not grade.isdecimal():
        return Verdict.CANNOT_SAY, f"Grade {grade} is a name, and names are not converted."
    if least <= int(grade) <= most:
        return Verdict.AGREE, f"Grade {grade} is usual for {kind} rope."
    text = f"Grade {grade} is unusual: {kind} rope is generally {span}. Compare it with the paper."
    return Verdict.CANNOT_SAY, text
