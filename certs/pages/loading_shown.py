"""Decides how the loading of a broken sample is told on a page: both parts, and what is amiss.

It changes no figure: they are those of `certs.rules.loading_rate`, in their plain form.
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from certs.pages.derivations import ShownDerivation, ShownInput
from certs.rules.confidence import in_words
from certs.rules.derived import with_unit
from certs.rules.loading_verdict import LoadingFinding
from inventory.pages.facts import Fact
from inventory.pages.reading import shown_force

Json = Mapping[str, Any]

SHAPES = {
    LoadingFinding.KEPT.value: "good",
    LoadingFinding.EXCEEDED.value: "wait",
    LoadingFinding.CANNOT_SAY.value: "open",
    LoadingFinding.NOT_REACHED.value: "open",
}
NOT_SHOWN = "the log does not show it"


@dataclass(frozen=True, slots=True)
class ShownLoading:
    """What `templates/certs/_loading.html` shows."""

    words: str
    shape: str
    facts: tuple[Fact, ...]
    deviations: tuple[str, ...]
    steps: tuple[ShownDerivation, ...]


def loading_shown(loading: Json | None, *, said: Collection[str]) -> ShownLoading | None:
    """Show the loading that a log gives; None where there is no log.

    What was `said` on the day of the test is not said twice.
    """
    if not loading:
        return None
    rates = (loading["fast"], loading["mean"], loading["greatest"])
    return ShownLoading(
        words=loading["finding_text"],
        shape=SHAPES[loading["finding"]],
        facts=tuple(_facts(loading)),
        deviations=tuple(text for text in loading["deviations"] if text not in said),
        steps=tuple(_step(rate) for rate in rates if rate),
    )


def _facts(loading: Json) -> Iterator[Fact]:
    mark = shown_force(loading["mark_n"])
    yield Fact("80 % of the required force", mark, note=_passed(loading))
    yield Fact("Fast part, mean rate", _rate(loading["fast"]))
    yield Fact("Slow part, mean rate", _rate(loading["mean"]), note=_lasted(loading))
    yield Fact(
        "Slow part, greatest rate",
        _rate(loading["greatest"]),
        note=_between(loading),
    )
    if loading["unseen_ms"]:
        yield Fact("Without readings above 80 %", _seconds(loading["unseen_ms"]))


def _rate(rate: Json | None) -> str:
    """A rate in per cent of the required force per second."""
    return f"{rate['stated']} % of it per second" if rate else NOT_SHOWN


def _passed(loading: Json) -> str:
    at = loading["marked_ms"]
    return "" if at is None else f"passed {_seconds(at)} into the log"


def _lasted(loading: Json) -> str:
    took = loading["slow_ms"]
    return "" if took is None else f"{_seconds(took)} from 80 % to the peak"


def _between(loading: Json) -> str:
    start, end = loading["greatest_from_ms"], loading["greatest_to_ms"]
    if start is None or end is None:
        return ""
    return f"from {_seconds(start)} to {_seconds(end)}; ISO 3108:2017 allows 0.5 %"


def _seconds(ms: int) -> str:
    return f"{ms / 1000:.1f} s"


def _step(rate: Json) -> ShownDerivation:
    quantity, source = rate["quantity"], rate["source"]
    return ShownDerivation(
        title=quantity[:1].upper() + quantity[1:],
        stated=with_unit(rate["stated"], rate["unit"]),
        unrounded=with_unit(rate["unrounded"][:12], rate["unit"]),
        rounding=rate["rounding"],
        formula=f"{rate['formula']}:  {rate['worked']}",
        source=source["name"],
        edition=source["edition"],
        confidence=in_words(source["confidence"]),
        inputs=tuple(
            ShownInput(
                word=f"{one['symbol']}: {one['name']}",
                value=with_unit(one["value"], one["unit"]),
                source="from the record" if one["symbol"] == "Fmin" else "from the force log",
                confidence="",
            )
            for one in rate["inputs"]
        ),
        notes=(f"Basis: {rate['basis']}.", *rate["remarks"]),
    )
