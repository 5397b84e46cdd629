"""Whether the ladle analysis of a heat is that of its steel.

Limits that were read and limits that are only remembered are two findings: the first may
disagree, the second warns. A heat certified as two steels must meet the limits of both.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from certs.rules.check_sample import check_sample_limits
from certs.rules.content import BELOW, Standing, decimals_of, standing
from certs.rules.derived import Derived, Gap, Given, Source
from certs.rules.finding import Finding, Verdict, against
from certs.rules.pitting import pitting_resistance
from certs.rules.steel_limits import (
    MEMORY,
    READ,
    ContentLimit,
    SteelLimits,
    rows_for,
    steels_named,
)

TOPIC = "Ladle analysis"
NO_VALUE = "no value held: enter it from your copy of the standard"
NOTHING_HELD = Source(name="table of ladle analyses", confidence="gap")
REMEMBERED = (
    "These limits are from memory and reject nothing: compare the analysis with your copy of the"
    " standard."
)


@dataclass(frozen=True, slots=True)
class HeatAnalysis:
    """A heat as its mill states it: element symbol to mass per cent, as printed."""

    number: str
    steel_name: str
    analysis: Mapping[str, str]

    @property
    def topic(self) -> str:
        """Name what the findings speak of."""
        return f"{TOPIC} of heat {self.number}"


def analysis_findings(heat: HeatAnalysis, rows: Sequence[SteelLimits]) -> tuple[Finding, ...]:
    """Compare a heat with the limits of its steel, or of each of them if it is certified as two."""
    if not heat.analysis:
        text = "The mill gave no ladle analysis, so it cannot be compared with its steel."
        return (_nothing(heat, text),)
    found: list[Finding] = []
    for name in steels_named(heat.steel_name) or (heat.steel_name,):
        held = rows_for(name, rows)
        if not held:
            found.append(_nothing(heat, f"Limits of {name or 'an unnamed steel'}: {NO_VALUE}."))
        for row in held:
            found.extend(_against_row(heat, row))
    return tuple(found)


def _nothing(heat: HeatAnalysis, text: str) -> Finding:
    given = tuple(Given(name, "content", figure, "%") for name, figure in heat.analysis.items())
    rule = "ladle analysis against the limits of its steel"
    return Finding(heat.topic, Verdict.CANNOT_SAY, text, rule, NOTHING_HELD, given)


def _against_row(heat: HeatAnalysis, row: SteelLimits) -> Iterable[Finding]:
    """Yield one finding for the limits that were read and one for the others."""
    derived, extra = _derived(heat, row)
    for confidence in (READ, MEMORY):
        limits = [one for one in row.limits if one.source.confidence == confidence]
        if limits:
            yield _finding(heat, limits, derived, extra)
            derived, extra = (), ""


def _finding(
    heat: HeatAnalysis, limits: Sequence[ContentLimit], derived: tuple[Derived, ...], extra: str
) -> Finding:
    source = limits[0].source
    stand = {limit: standing(limit, heat.analysis) for limit in limits}
    outside = [limit for limit in limits if stand[limit] is Standing.OUTSIDE]
    verdict = Verdict.CANNOT_SAY
    if outside:
        verdict = against(is_met=False, is_provisional=source.is_provisional)
    elif all(one is Standing.WITHIN for one in stand.values()):
        verdict = Verdict.AGREE
    how = "from memory" if source.is_provisional else "as read"
    return Finding(
        topic=heat.topic,
        verdict=verdict,
        text=f"{_told(heat, stand)}{extra}",
        rule=f"ladle analysis within the limits of {source.name}, {how}",
        source=source,
        given=tuple(_given(limit, heat) for limit in limits if _is_stated(limit, heat)),
        derived=derived,
        warnings=(
            *((REMEMBERED,) if outside and source.is_provisional else ()),
            *((f"Of this row: {source.note}.",) if source.note not in {READ, MEMORY} else ()),
            *_decimal_warnings(limits, heat),
        ),
    )


def _told(heat: HeatAnalysis, stand: Mapping[ContentLimit, Standing]) -> str:
    """Tell every limit in one of four sentences, what is wrong first."""
    sentences = (
        ("Outside", Standing.OUTSIDE, True),
        ("Cannot be told from the figure", Standing.UNSURE, True),
        ("Not stated in the analysis", Standing.NOT_STATED, False),
        ("Within the limits", Standing.WITHIN, False),
    )
    told = []
    for words, which, with_figures in sentences:
        limits = [limit for limit, one in stand.items() if one is which]
        if limits:
            named = (_figures(limit, heat) if with_figures else limit.name for limit in limits)
            told.append(f"{words}: {', '.join(named)}.")
    return " ".join(told)


def _figures(limit: ContentLimit, heat: HeatAnalysis) -> str:
    return f"{limit.name} {_written(limit, heat)} % (limit {limit.text})"


def _written(limit: ContentLimit, heat: HeatAnalysis) -> str:
    return " + ".join(heat.analysis[symbol] for symbol in limit.symbols)


def _is_stated(limit: ContentLimit, heat: HeatAnalysis) -> bool:
    return all(symbol in heat.analysis for symbol in limit.symbols)


def _given(limit: ContentLimit, heat: HeatAnalysis) -> Given:
    name = f"content in the ladle, limit {limit.text}"
    return Given(limit.name, name, _written(limit, heat), "%", limit.source)


def _decimal_warnings(limits: Iterable[ContentLimit], heat: HeatAnalysis) -> Iterable[str]:
    """Say where rounding by the mill may hide something (a warning, never a failure)."""
    for limit in limits:
        figure = heat.analysis.get(limit.name, BELOW)
        if not figure.startswith(BELOW) and decimals_of(figure) < limit.decimals:
            yield (
                f"{limit.name} is printed as {figure} %, with fewer decimals than its limit"
                f" {limit.text}: what was rounded away is not known."
            )


def _derived(heat: HeatAnalysis, row: SteelLimits) -> tuple[tuple[Derived, ...], str]:
    """Give what follows from the analysis beside the limits, and a sentence about it."""
    derived: list[Derived] = []
    extra = ""
    if row.is_stainless:
        number = pitting_resistance(heat.analysis)
        if isinstance(number, Gap):
            extra = f" PREN is not computed: {number.reason}"
        else:
            derived.append(number)
            extra = f" PREN {number.text}, for information."
    for tolerance in row.tolerances:
        pair = check_sample_limits(tolerance, heat.analysis.get(tolerance.symbol, BELOW))
        if pair and not tolerance.source.is_provisional:
            derived.extend(pair)
            extra += (
                f" A check sample may hold {pair[0].text} to {pair[1].text} {tolerance.symbol}."
            )
    return tuple(derived), extra
