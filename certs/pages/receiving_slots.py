"""Decides what stands under each field while a reel is received: errors, findings, or its help.

What a check would find is said by `foresee_check`; here it is put beside what was typed.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from django.forms import BoundField

from certs.pages.found_points import SHAPES
from certs.rules.finding import Finding, Verdict
from certs.rules.measured_diameter import DIAMETER_TOPIC, DIFFERENCE_TOPIC
from certs.rules.mill_reel_number import TOPIC as REEL_NUMBER
from certs.rules.received_grade import MARK_TOPIC, USUAL_TOPIC
from certs.rules.received_mass import DECLARED_TOPIC, WEIGHED_TOPIC
from certs.rules.zinc_class import TOPIC as ZINC
from certs.services.foresee_check import Foreseen

FORCE = "declared_force_n"
FIELD_OF: Final[Mapping[str, str]] = MappingProxyType(
    {
        REEL_NUMBER: "mill_reel_number",
        DIAMETER_TOPIC: "diameter",
        DIFFERENCE_TOPIC: "diameter",
        WEIGHED_TOPIC: "weighed_mass_g",
        DECLARED_TOPIC: "declared_mass_g_per_100m",
        MARK_TOPIC: "marked_grade",
        USUAL_TOPIC: "heats",
        ZINC: "zinc_class",
    }
)


@dataclass(frozen=True, slots=True)
class SlotLine:
    """One thing said under a field: a word with its shape, and a sentence."""

    word: str
    shape: str
    text: str


@dataclass(frozen=True, slots=True)
class Slot:
    """The place under a field, or under a group of them; `help` stands where nothing else does."""

    key: str
    help: str
    errors: tuple[str, ...] = ()
    lines: tuple[SlotLine, ...] = ()


@dataclass(frozen=True, slots=True)
class Asked:
    """A field and the place under it."""

    field: BoundField
    slot: Slot


def asked(
    field: BoundField, *, errors: Iterable[str] = (), lines: Iterable[SlotLine] = ()
) -> Asked:
    """Put what is to be said under a field; its own errors come first, each once."""
    said = dict.fromkeys((*(str(one) for one in field.errors), *errors))
    key = f"{field.auto_id}_helptext"
    return Asked(field, Slot(key, str(field.help_text), tuple(said), tuple(lines)))


def line_of(finding: Finding) -> SlotLine:
    """Tell a finding in one line."""
    remembered = " Provisional." if finding.is_provisional and _is_held(finding) else ""
    shape = SHAPES[finding.verdict.value]
    return SlotLine(finding.verdict.words, shape, f"{finding.text}{remembered}")


def lines_by_field(foreseen: Foreseen) -> dict[str, list[SlotLine]]:
    """Give what would be found by the field it belongs to, those of heats by their topic."""
    told: dict[str, list[SlotLine]] = {}
    for finding in foreseen.findings:
        place = FIELD_OF.get(finding.topic, finding.topic)
        told.setdefault(place, []).append(line_of(finding))
    told[FORCE] = list(_forces(foreseen))
    if foreseen.limits:
        limits = SlotLine("", "", f"To compare: {foreseen.limits}.")
        told.setdefault("diameter", []).append(limits)
    return told


def summary_of(foreseen: Foreseen) -> SlotLine:
    """Tell what the check would come to, as far as things are typed."""
    told = {verdict: _topics(foreseen.findings, verdict) for verdict in Verdict}
    against, agreeing = told[Verdict.DISAGREE], told[Verdict.AGREE]
    if against:
        text = f"{'; '.join(against)}. Received so, the reel goes on hold until someone decides."
        return SlotLine("does not agree", "stop", text)
    if not agreeing:
        return SlotLine("", "", "Nothing that was typed has been compared yet.")
    text = f"So far: {'; '.join(agreeing)}."
    unsaid = told[Verdict.CANNOT_SAY]
    if unsaid:
        text += f" Cannot be said: {'; '.join(unsaid)}."
    return SlotLine("agrees", "good", text)


def _forces(foreseen: Foreseen) -> Iterator[SlotLine]:
    """Hold the declared force against what may be named as its basis: told, and no finding yet."""
    for finding in foreseen.forces:
        line = line_of(finding)
        yield SlotLine(line.word, line.shape, f"If certified so: {line.text}")


def _topics(findings: Iterable[Finding], verdict: Verdict) -> list[str]:
    topics = (one.topic for one in findings if one.verdict is verdict)
    return list(dict.fromkeys(topics))


def _is_held(finding: Finding) -> bool:
    return finding.source.confidence != "gap"
