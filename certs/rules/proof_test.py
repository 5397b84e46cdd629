"""Whether a proof-load test shows what it must: enough force, held long enough, and not too much.

It judges the findings of a force log against a requirement; where the requirement comes from, and
whether the machine was fit on that day, is decided elsewhere (`working_load`, `machine`).
"""

from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from certs.rules.load_plateau import Plateau
from certs.rules.load_trace import LoadFindings
from certs.rules.permanent_extension import ExtensionOutcome, PermanentExtension
from certs.rules.proof_requirement import Requirement


class ProofOutcome(StrEnum):
    """What one proof-load test says of the item."""

    PASSES = "passes"
    FAILS = "fails"
    CANNOT_SAY = "cannot_say"


@dataclass(frozen=True, slots=True)
class Inspections:
    """Whether the item was found good before and after the load; None: not recorded."""

    before_ok: bool | None
    after_ok: bool | None


@dataclass(frozen=True, slots=True)
class ProofVerdict:
    """The outcome, and every finding behind it as a sentence, the worst first."""

    outcome: ProofOutcome
    findings: tuple[str, ...]


# Own decision: no standard read asks for a class. The error of the class is added to the load.
PROOF_CLASS: Final = "2"

NO_CEILING: Final = (
    "There is a load that this item may not see, and it is not known: nothing shows that it was"
    " kept. Rate the item first, or name the load not to be passed."
)

Finding = tuple[ProofOutcome, str]

_SPIKES_TOLD: Final = 3
_WORST_FIRST: Final = (ProofOutcome.FAILS, ProofOutcome.CANNOT_SAY, ProofOutcome.PASSES)


def judge_proof_test(
    *,
    requirement: Requirement,
    findings: LoadFindings,
    inspections: Inspections,
    extension: PermanentExtension | None = None,
) -> ProofVerdict:
    """Judge a proof-load test. The worst finding decides; what is not shown is not assumed.

    `findings` should come from `analyse(samples, target_n=requirement.least_indicated_n)`, so that
    a hold in several steps can be counted whole.
    """
    judged = [
        _inspection("before", ok=inspections.before_ok),
        _inspection("after", ok=inspections.after_ok),
        _force_and_hold(requirement, findings),
        *_ceiling(requirement, findings),
        *_extension(extension),
        *_set_aside(findings),
        *_zero(requirement, findings),
    ]
    judged.sort(key=lambda finding: _WORST_FIRST.index(finding[0]))
    return ProofVerdict(outcome=judged[0][0], findings=tuple(text for _, text in judged))


def relied_on(requirement: Requirement, findings: LoadFindings) -> Plateau | None:
    """Return the hold that the test rests on: the longest that is high enough, else the main one.

    The longest as far as readings show it.
    """
    return _best(requirement, findings) or findings.plateau


def _best(requirement: Requirement, findings: LoadFindings) -> Plateau | None:
    needed = requirement.least_indicated_n
    high = [plateau for plateau in findings.plateaus if plateau.lowest_n >= needed]
    return max(high, key=_seen_s, default=None)


def _inspection(when: str, *, ok: bool | None) -> Finding:
    if ok is None:
        return ProofOutcome.CANNOT_SAY, f"No inspection {when} the load is recorded."
    if ok:
        return ProofOutcome.PASSES, f"The inspection {when} the load found nothing wrong."
    return ProofOutcome.FAILS, f"The inspection {when} the load found a defect."


def _force_and_hold(requirement: Requirement, findings: LoadFindings) -> Finding:
    """Judge the best hold of the log: it must be high enough, and long enough where seen."""
    needed = requirement.least_indicated_n
    best = _best(requirement, findings)
    asked = (
        f"{needed} N indicated ({requirement.required_n} N and the {requirement.machine_q_pct} %"
        f" that the machine may err) for {requirement.required_hold_s} s"
    )
    if best is not None and _seen_s(best) >= requirement.required_hold_s:
        return ProofOutcome.PASSES, (
            f"Held for {best.hold_s:.1f} s at {best.lowest_n} N or more{_unseen(best)};"
            f" needed: {asked}."
        )
    if findings.plateaus and _longest_s(findings, needed) >= requirement.required_hold_s:
        return ProofOutcome.PASSES, (
            f"At or above {needed} N for {_longest_s(findings, needed):.1f} s without a break,"
            f" in more than one step; needed: {asked}."
        )
    if best is not None and best.hold_s >= requirement.required_hold_s:
        return ProofOutcome.CANNOT_SAY, (
            f"Held for {best.hold_s:.1f} s, but the log has no readings for {best.unseen_s:.1f} s"
            f" of it; needed: {asked}."
        )
    return ProofOutcome.FAILS, f"{_shortfall(findings)}; needed: {asked}."


def _shortfall(findings: LoadFindings) -> str:
    plateau = findings.plateau
    if plateau is None:
        return f"The log shows no steady hold; its peak is {findings.peak_n} N"
    return f"The hold lasted {plateau.hold_s:.1f} s and fell to {plateau.lowest_n} N at its lowest"


def _unseen(plateau: Plateau) -> str:
    return f" (no readings for {plateau.unseen_s:.1f} s of it)" if plateau.unseen_s else ""


def _seen_s(plateau: Plateau) -> float:
    return plateau.hold_s - plateau.unseen_s


def _longest_s(findings: LoadFindings, needed_n: int) -> float:
    """Return the longest unbroken time above the force, if the log was analysed for that force."""
    longest_s = findings.longest_at_or_above_target_s
    return 0.0 if longest_s is None or findings.target_n != needed_n else longest_s


def _ceiling(requirement: Requirement, findings: LoadFindings) -> list[Finding]:
    """Judge the upper limit: surely kept, surely exceeded, or neither."""
    most, above = requirement.most_indicated_n, requirement.surely_above_n
    if most is None or above is None:
        return [(ProofOutcome.CANNOT_SAY, NO_CEILING)] if requirement.needs_ceiling else []
    limit = f"the upper limit of {requirement.ceiling_n} N"
    judged: list[Finding] = []
    if most < requirement.least_indicated_n:
        text = (
            f"With this machine no reading proves both bounds: at least"
            f" {requirement.least_indicated_n} N indicated is needed for {requirement.required_n}"
            f" N, at most {most} N for {limit}.{requirement.remedy}"
        )
        judged.append((ProofOutcome.CANNOT_SAY, text))
    if findings.peak_n > above:
        text = f"The peak of {findings.peak_n} N indicated is above {limit}."
        judged.append((ProofOutcome.FAILS, text))
    elif findings.raw_peak_n > most:
        text = (
            f"The highest reading, {findings.raw_peak_n} N, does not prove that {limit} was kept"
            f" ({most} N indicated would)."
        )
        judged.append((ProofOutcome.CANNOT_SAY, text))
    else:
        text = f"The highest reading, {findings.raw_peak_n} N, keeps {limit}."
        judged.append((ProofOutcome.PASSES, text))
    return judged


_EXTENSION: Final = {
    ExtensionOutcome.WITHIN: ProofOutcome.PASSES,
    ExtensionOutcome.TOLD: ProofOutcome.PASSES,
    ExtensionOutcome.BEYOND: ProofOutcome.FAILS,
    ExtensionOutcome.CANNOT_SAY: ProofOutcome.CANNOT_SAY,
}


def _extension(extension: PermanentExtension | None) -> list[Finding]:
    return [] if extension is None else [(_EXTENSION[extension.outcome], extension.told)]


def _set_aside(findings: LoadFindings) -> list[Finding]:
    if not findings.spikes:
        return []
    shown = ", ".join(
        f"{spike.force_n:.0f} N at {spike.time_s:.1f} s" for spike in findings.spikes[:_SPIKES_TOLD]
    )
    more = ", and so on" if len(findings.spikes) > _SPIKES_TOLD else ""
    text = (
        f"Readings that stand out singly and were set aside: {len(findings.spikes)}"
        f" ({shown}{more})."
    )
    return [(ProofOutcome.PASSES, text)]


def _zero(requirement: Requirement, findings: LoadFindings) -> list[Finding]:
    """Tell of a log that never shows less than the machine's error: its zero may not be set."""
    allowed_n = requirement.required_n * requirement.machine_q_pct / 100
    if findings.least_n <= allowed_n:
        return []
    text = (
        f"No reading of this log lies below {findings.least_n} N. Make sure that this was a load on"
        " the item and not a zero left unset, which would show every force too high."
    )
    return [(ProofOutcome.PASSES, text)]
