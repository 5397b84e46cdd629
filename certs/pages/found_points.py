"""Decides how what a receiving check found is told on a page: each point with rule and source.

It is told as it was kept when the check was made, whatever rules and tables say today.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final

from certs.models import ReceivingCheck
from certs.pages.derivations import ShownDerivation, ShownInput
from certs.rules.confidence import in_words
from certs.rules.derived import with_figures, with_unit
from certs.rules.finding import Verdict
from inventory.pages.table import Column, Line, Table, build_table

SHAPES: Final[Mapping[str, str]] = MappingProxyType(
    {
        Verdict.AGREE.value: "good",
        Verdict.CANNOT_SAY.value: "open",
        Verdict.DISAGREE.value: "stop",
    }
)
OUTCOME_SHAPES: Final[Mapping[str, str]] = MappingProxyType(
    {
        ReceivingCheck.Outcome.AGREES.value: "good",
        ReceivingCheck.Outcome.CANNOT_SAY.value: "open",
        ReceivingCheck.Outcome.DISAGREES.value: "stop",
    }
)
PROVISIONAL = "Provisional: it rests on something from memory or common practice."
_ORDER = (Verdict.DISAGREE.value, Verdict.CANNOT_SAY.value, Verdict.AGREE.value)
_SHOWN_DIGITS = 12


@dataclass(frozen=True, slots=True)
class FoundPoint:
    """One point of a check; `steps` and `given` are what it rests on."""

    topic: str
    word: str
    shape: str
    text: str
    rule: str
    source: str
    warnings: tuple[str, ...]
    given: Table | None
    steps: tuple[ShownDerivation, ...]


def found_points(check: ReceivingCheck) -> list[FoundPoint]:
    """Tell every point of a check, what does not agree first."""
    points = sorted(check.findings, key=lambda one: _ORDER.index(one["verdict"]))
    return [_point(one) for one in points]


def _point(finding: Mapping[str, Any]) -> FoundPoint:
    warnings = tuple(finding["warnings"])
    return FoundPoint(
        topic=finding["topic"],
        word=finding["verdict_text"],
        shape=SHAPES[finding["verdict"]],
        text=finding["text"],
        rule=finding["rule"],
        source=finding["source_text"],
        warnings=(*warnings, PROVISIONAL) if _is_remembered(finding) else warnings,
        given=_given_table(finding["given"]) if finding["given"] else None,
        steps=tuple(dict.fromkeys(_steps(finding["derived"]))),
    )


def _is_remembered(finding: Mapping[str, Any]) -> bool:
    """Tell what rests on memory or habit from what is not held at all, which says so itself."""
    is_held = finding["source"]["confidence"] != "gap"
    return bool(finding["is_provisional"]) and is_held


def _given_table(given: Sequence[Mapping[str, Any]]) -> Table:
    lines = (
        Line((one["symbol"], one["name"], with_unit(one["value"], one["unit"]))) for one in given
    )
    columns = ("Of", "What", Column("Value", is_number=True))
    return build_table(columns=columns, lines=lines, folds=True)


def _steps(derived: Iterable[Mapping[str, Any]]) -> Iterable[ShownDerivation]:
    for one in derived:
        yield from _steps(one["rests_on"])
        yield _step(one)


def _step(one: Mapping[str, Any]) -> ShownDerivation:
    quantity = str(one["quantity"])
    values = {given["symbol"]: given["value"] for given in one["inputs"]}
    worked = with_figures(one["formula"], values)
    return ShownDerivation(
        title=quantity[:1].upper() + quantity[1:],
        stated=with_unit(one["stated"], one["unit"]),
        unrounded=with_unit(_cut(one["unrounded"]), one["unit"]),
        rounding=one["rounding"],
        formula=f"{one['formula']}:  {worked}",
        source=one["source"]["name"],
        edition=one["source"]["edition"],
        confidence=in_words(one["source"]["confidence"]),
        inputs=tuple(_input(given) for given in one["inputs"]),
        notes=tuple(one["remarks"]),
    )


def _input(given: Mapping[str, Any]) -> ShownInput:
    source = given["source"]
    return ShownInput(
        word=f"{given['symbol']}: {given['name']}",
        value=with_unit(_cut(given["value"]), given["unit"]),
        source=source["name"] if source else "from the record",
        confidence=in_words(source["confidence"]) if source else "",
    )


def _cut(text: str) -> str:
    """Cut a long tail of digits; the ellipsis says that there are more."""
    return text if len(text) <= _SHOWN_DIGITS else f"{text[:_SHOWN_DIGITS]}…"
