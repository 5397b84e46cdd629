"""Whether the zinc class that the finish demands is the one that the mill document states.

How much zinc a class asks for is in EN 10264-2, whose masses nobody here has read: that the
coating itself suffices is never said.
"""

from certs.rules.derived import Given, Source
from certs.rules.finding import Finding, Verdict
from inventory.rules.refusal import Refusal
from inventory.rules.rope_designation import FINISHES

TOPIC = "Zinc class"
RULE = "the zinc class that the mill document states is the finish of the designation"
BRIGHT = "U"
CLASSES = tuple(finish for finish in FINISHES if finish != BRIGHT)
AS_RECORDED = Source(
    name="finish of the designation and the mill document's zinc class", confidence="as recorded"
)
NO_MASSES = (
    "Zinc mass of the class: no value held: enter it from your copy of the standard (EN 10264-2)."
)


def check_zinc_class(zinc_class: str) -> str:
    """Return the class as it is written; raises Refusal for one that is none."""
    written = zinc_class.strip()
    if written and written not in CLASSES:
        message = (
            f"“{written}” is no zinc class; write one of {', '.join(CLASSES)}, or leave it empty."
        )
        raise Refusal(message, field="zinc_class")
    return written


def zinc_finding(*, finish: str, zinc_class: str, is_assumed: bool) -> Finding:
    """Compare the finish of the designation with the class stated by the mill document.

    `zinc_class` is empty where the document states none; `is_assumed` says that the designation
    as typed named no finish.
    """
    given = tuple(
        Given(symbol, words, value, "")
        for symbol, words, value in (
            ("designation", "finish", finish),
            ("document", "zinc class", zinc_class),
        )
        if value
    )
    verdict, text = _compare(finish=finish, zinc_class=zinc_class, is_assumed=is_assumed)
    is_zinc_spoken_of = bool(zinc_class) or finish != BRIGHT
    warnings = (NO_MASSES,) if is_zinc_spoken_of else ()
    return Finding(TOPIC, verdict, text, RULE, AS_RECORDED, given, warnings=warnings)


def _compare(*, finish: str, zinc_class: str, is_assumed: bool) -> tuple[Verdict, str]:
    if is_assumed:
        stated = f"class {zinc_class}" if zinc_class else "no class"
        text = f"The finish was not stated on receipt; the mill document states {stated}."
        return Verdict.CANNOT_SAY, text
    if finish == BRIGHT and not zinc_class:
        return Verdict.AGREE, "The rope is bright, and no zinc class is stated."
    if finish == BRIGHT:
        text = f"The designation says bright, the mill document states zinc class {zinc_class}."
        return Verdict.DISAGREE, text
    if not zinc_class:
        text = f"Finish {finish} demands a zinc class; none is known from the mill document."
        return Verdict.CANNOT_SAY, text
    if finish == zinc_class:
        return Verdict.AGREE, f"The mill document states zinc class {zinc_class}, as demanded."
    text = f"Finish {finish} is demanded, the mill document states zinc class {zinc_class}."
    return Verdict.DISAGREE, text
