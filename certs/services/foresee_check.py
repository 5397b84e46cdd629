"""Says what a receiving check would find of a reel that is still being typed; it writes nothing.

What agrees is decided by the same rules as when the reel is received (`check_reel`). What nobody
has typed yet is not compared. No basis of strength can be named for a reel that is not on record,
so its declared force is held against what the tables give for its designation, and only told.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from certs.queries.receiving import Measured, findings_with
from certs.queries.suggestions import suggested_bases
from certs.rules.breaking_force import declared
from certs.rules.finding import Finding
from certs.rules.ladle_analysis import TOPIC as ANALYSIS
from certs.rules.measured_diameter import DIAMETER_TOPIC, DIFFERENCE_TOPIC
from certs.rules.mill_reel_number import TOPIC as REEL_NUMBER
from certs.rules.received_force import force_finding
from certs.rules.received_grade import MARK_TOPIC, USUAL_TOPIC
from certs.rules.received_mass import DECLARED_TOPIC, WEIGHED_TOPIC
from certs.rules.zinc_class import TOPIC as ZINC
from certs.services.check_reel import check_measured
from inventory.models import Heat, MillDocument, Party, Reel
from inventory.rules.designation import parse_designation
from inventory.rules.refusal import Refusal
from inventory.services.reel_facts import describe

MOST_BASES = 3


@dataclass(frozen=True, slots=True)
class TypedReel:
    """What stands in the form so far; "" or None where nothing does.

    `heats` may be on record or not; `document` is the number of the mill document.
    """

    designation: str
    mill: Party | None
    mill_reel_number: str
    length_mm: int | None
    marked_grade: str
    declared_force_n: int | None
    declared_mass_g_per_100m: int | None
    document: str
    heats: Sequence[Heat]
    measured: Measured


@dataclass(frozen=True, slots=True)
class Foreseen:
    """What a check would find as things stand typed.

    `limits` is the rule for the diameter while it is not measured; `forces` hold the declared force
    against each basis that the tables offer; `refusal` is why what was measured could not be used.
    """

    findings: tuple[Finding, ...]
    limits: str
    forces: tuple[Finding, ...]
    refusal: Refusal | None


def foresee_check(typed: TypedReel) -> Foreseen:
    """Compare what is typed so far. Raises DesignationError where the rope is not understood."""
    reel, measured, refusal = _reel(typed), typed.measured, None
    try:
        measured = check_measured(reel, measured)
    except Refusal as problem:
        measured, refusal = Measured(), problem
    found = findings_with(reel, measured, heats=typed.heats)
    said = _said(typed, measured)
    limits = next(one.rule for one in found if one.topic == DIAMETER_TOPIC)
    return Foreseen(
        findings=tuple(one for one in found if _is_of(one.topic, said)),
        limits="" if measured.readings or refusal else limits,
        forces=tuple(_forces(reel)),
        refusal=refusal,
    )


def _reel(typed: TypedReel) -> Reel:
    """Make the reel that would be received; it is never saved."""
    weighed_mm = typed.measured.weighed_length_mm or 0
    reel = Reel(
        origin=Reel.Origin.MILL,
        mill=typed.mill,
        mill_reel_number=typed.mill_reel_number.strip(),
        # While no length is typed, none that was weighed is too long for it.
        length_mm=weighed_mm if typed.length_mm is None else typed.length_mm,
        marked_grade=typed.marked_grade.strip(),
        declared_force_n=typed.declared_force_n,
        declared_mass_g_per_100m=typed.declared_mass_g_per_100m,
        mill_document=MillDocument(number=typed.document) if typed.document else None,
    )
    describe(reel, parse_designation(typed.designation))
    return reel


def _said(typed: TypedReel, measured: Measured) -> set[str]:
    """List the topics of which something was typed that can be compared."""
    is_typed = {
        REEL_NUMBER: typed.mill and typed.mill_reel_number,
        DIAMETER_TOPIC: measured.readings,
        DIFFERENCE_TOPIC: measured.readings,
        WEIGHED_TOPIC: measured.weighed_mass_g,
        DECLARED_TOPIC: typed.declared_mass_g_per_100m,
        MARK_TOPIC: typed.marked_grade,
        USUAL_TOPIC: any(heat.steel_name for heat in typed.heats),
        ZINC: measured.zinc_class,
        ANALYSIS: typed.heats,
    }
    return {topic for topic, value in is_typed.items() if value}


def _is_of(topic: str, said: set[str]) -> bool:
    # The topic of an analysis goes on to name its heat.
    return topic in said or (topic.startswith(ANALYSIS) and ANALYSIS in said)


def _forces(reel: Reel) -> Iterator[Finding]:
    if reel.declared_force_n is None:
        return
    document = reel.mill_document
    named = f"mill document {document.number}" if document else "the marking of the reel"
    stated = declared(force_n=reel.declared_force_n, document=named)
    for basis in suggested_bases(reel.designation)[:MOST_BASES]:
        yield force_finding(stated, basis.force)
