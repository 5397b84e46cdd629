"""Whether a sling is built within the limits that its rating takes for granted.

Clear rope between the ends, the size of soft eyes, and the links between legs. What it bears on in
use is decided by `bearing`, how grips are fitted by `grips`.
"""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final

from certs.rules.built_sling import BuiltEnd, BuiltLeg, BuiltSling, RatedFitting
from certs.rules.derived import Derived, Given, Source, plain, trimmed
from certs.rules.finding import Finding, Verdict
from certs.rules.sling_legs import AngleConvention, LegArrangement
from certs.rules.termination import TerminationKind

BUILD_EN: Final = Source(
    "EN 13414-1, sling build limits, as a trade summary tells them", "", "read"
)
BUILD_US: Final = Source(
    "United States sling build limits, as a trade summary tells them", "", "read"
)
WEAKEST: Final = Source(
    "2006/42/EC Annex I 4.1.2.5: the limit follows from the weakest part", "", "read"
)
LAY_RECORDED: Final = Source("recorded with the reel", "", "declared by the maker")
CLEAR_FERRULES_D: Final = 20
CLEAR_SPLICES_D: Final = 15
CLEAR_US_D: Final = 10
CLEAR_BRAIDED_D: Final = 40
GROMMET_US_D: Final = 96
EYE_LAYS: Final = 4
LINK_FACTOR: Final = Decimal("1.6")
KG_PER_T: Final = 1000

_CLEAR_EN: Final = {
    TerminationKind.FERRULE_SECURED_EYE: CLEAR_FERRULES_D,
    TerminationKind.HAND_SPLICE: CLEAR_SPLICES_D,
}
_JOINING: Final = frozenset({LegArrangement.THREE_LEGS, LegArrangement.FOUR_LEGS})
_FITTED_RULE: Final = "a fitting marked at least the working load limit of its leg"
_JOINED_RULE: Final = (
    f"an intermediate link marked at least {LINK_FACTOR} times the working load limit of a leg,"
    " any other fitting at least that of its leg"
)


def build_findings(
    sling: BuiltSling,
    *,
    convention: AngleConvention,
    leg_t: Decimal | None,
    lay_mm: Decimal | None = None,
) -> tuple[Finding, ...]:
    """Compare a sling with the limits of its convention, leg by leg.

    `leg_t` is what one leg may carry in tonnes, None while it is not rated; `lay_mm` the length
    of one lay as somebody measured it, which counts where none is recorded with the rope. A limit
    that is not held for an end gives no finding.
    """
    return tuple(_all(sling, convention=convention, leg_t=leg_t, lay_mm=lay_mm))


def _all(
    sling: BuiltSling,
    *,
    convention: AngleConvention,
    leg_t: Decimal | None,
    lay_mm: Decimal | None,
) -> Iterator[Finding]:
    is_en = convention is AngleConvention.FROM_VERTICAL
    for leg in sling.parts:
        if sling.is_endless:
            if not is_en:
                yield _grommet(leg)
            continue
        clear = _clear_en(leg) if is_en else _clear_us(leg)
        if clear is not None:
            yield clear
        for end in leg.ends:
            if is_en and end.has_soft_eye:
                yield _soft_eye(leg, end, lay_mm=lay_mm)
            for link in end.links:
                where = f"{leg.name}, {end.place}, {link.name}"
                yield _link(where, link, leg_t=leg_t, joins=is_en and sling.legs in _JOINING)


def _clear_en(leg: BuiltLeg) -> Finding | None:
    """Of a ferrule at one end and a splice at the other the longer limit would be safe."""
    held = [_CLEAR_EN.get(end.kind) for end in leg.ends]
    times = [limit for limit in held if limit is not None]
    if not times or len(times) < len(held):
        return None
    rule = (
        f"clear rope at least {CLEAR_FERRULES_D} d between ferrules, {CLEAR_SPLICES_D} d between"
        " the tails of splices"
    )
    return _clear(leg, certain=min(times), safe=max(times), rule=rule, source=BUILD_EN)


def _clear_us(leg: BuiltLeg) -> Finding:
    rule = f"clear rope at least {CLEAR_US_D} d, of braided rope {CLEAR_BRAIDED_D} d"
    return _clear(leg, certain=CLEAR_US_D, safe=CLEAR_US_D, rule=rule, source=BUILD_US)


def _clear(leg: BuiltLeg, *, certain: int, safe: int, rule: str, source: Source) -> Finding:
    """Below `certain` times d no reading of the rule is met; from `safe` times d every one is."""
    needed = _times_d(safe, leg, quantity="least clear rope", source=source)
    most_mm = leg.length_mm if leg.clear_mm is None else leg.clear_mm
    if most_mm < certain * leg.diameter_mm:
        verdict = Verdict.DISAGREE
    elif leg.clear_mm is None or leg.clear_mm < needed.stated:
        verdict = Verdict.CANNOT_SAY
    else:
        verdict = Verdict.AGREE
    if leg.clear_mm is not None:
        text = f"{leg.name}: {leg.clear_mm} mm of clear rope; at least {needed.text} is asked for."
    elif verdict is Verdict.DISAGREE:
        text = (
            f"{leg.name}: the whole piece is {leg.length_mm} mm, so that less than {needed.text} of"
            " clear rope can be left between its ends."
        )
    else:
        text = (
            f"{leg.name}: the clear rope is not on record; measure it: {needed.text} is asked for."
        )
    return Finding("Clear rope", verdict, text, rule, source, derived=(needed,))


def _grommet(leg: BuiltLeg) -> Finding:
    """The circumference is not on record; a piece shorter than the limit cannot reach it."""
    needed = _times_d(GROMMET_US_D, leg, quantity="least circumference", source=BUILD_US)
    is_short = leg.length_mm < needed.stated
    text = (
        f"{leg.name}: the piece of {leg.length_mm} mm cannot make a circumference of {needed.text}."
        if is_short
        else f"{leg.name}: measure the circumference; {needed.text} is asked for."
    )
    verdict = Verdict.DISAGREE if is_short else Verdict.CANNOT_SAY
    rule = f"circumference of a grommet at least {GROMMET_US_D} d"
    return Finding("Circumference", verdict, text, rule, BUILD_US, derived=(needed,))


def _soft_eye(leg: BuiltLeg, end: BuiltEnd, *, lay_mm: Decimal | None) -> Finding:
    rule = f"a soft eye at least {EYE_LAYS} lay lengths all round"
    where = f"{leg.name}, {end.place}"
    lay = _lay(leg, lay_mm)
    if lay is None:
        held = "" if end.eye_mm is None else f" The eye is {end.eye_mm} mm all round."
        text = (
            f"{where}: no lay length is held for this rope, so the least soft eye cannot be told;"
            f" measure one lay: the eye needs {EYE_LAYS} of them.{held}"
        )
        return Finding("Soft eye", Verdict.CANNOT_SAY, text, rule, BUILD_EN)
    needed = _eye_needed(lay, rule=rule)
    warnings = _other_lay(leg, lay_mm)
    if end.eye_mm is None:
        verdict = Verdict.CANNOT_SAY
        text = f"{where}: the eye is not measured; at least {needed.text} all round is asked for."
    else:
        verdict = Verdict.AGREE if end.eye_mm >= needed.stated else Verdict.DISAGREE
        text = f"{where}: {end.eye_mm} mm all round; at least {needed.text} is asked for."
    return Finding("Soft eye", verdict, text, rule, BUILD_EN, derived=(needed,), warnings=warnings)


def _lay(leg: BuiltLeg, measured_mm: Decimal | None) -> Given | None:
    """Give the lay length that counts: the longer one, which asks for the larger eye."""
    if measured_mm is not None and (leg.lay_mm is None or measured_mm > leg.lay_mm):
        return Given("p", "lay length as measured", trimmed(measured_mm), "mm")
    if leg.lay_mm is not None:
        return Given("p", "lay length of the rope", trimmed(leg.lay_mm), "mm", LAY_RECORDED)
    return None


def _other_lay(leg: BuiltLeg, measured_mm: Decimal | None) -> tuple[str, ...]:
    if leg.lay_mm is None or measured_mm is None or measured_mm == leg.lay_mm:
        return ()
    told = (
        f"The reel is recorded with {trimmed(leg.lay_mm)} mm and {trimmed(measured_mm)} mm was"
        " typed; the longer one counts. If the rope measures so, put the reel on hold and ask its"
        " maker."
    )
    return (told,)


def _eye_needed(lay: Given, *, rule: str) -> Derived:
    needed_mm = EYE_LAYS * Decimal(lay.value)
    return Derived(
        quantity="least way round a soft eye",
        symbol="Emin",
        formula="Emin = n p",
        inputs=(Given("n", "lay lengths", str(EYE_LAYS), "", BUILD_EN), lay),
        source=BUILD_EN,
        unrounded=needed_mm,
        stated=Decimal(trimmed(needed_mm)),
        unit="mm",
        rounding="not rounded",
        basis=rule,
    )


def _link(where: str, link: RatedFitting, *, leg_t: Decimal | None, joins: bool) -> Finding:
    """Between one and 1.6 times the leg's load a hook is strong enough and a link is not."""
    rule = _JOINED_RULE if joins else _FITTED_RULE
    if leg_t is None or link.rated_kg is None:
        missing = "what it is rated for is" if link.rated_kg is None else "what a leg may carry is"
        text = f"{where}: {missing} not on record, so it cannot be compared."
        return Finding("Link or hook", Verdict.CANNOT_SAY, text, rule, BUILD_EN)
    marked_t = Decimal(link.rated_kg) / KG_PER_T
    told = f"{where}: marked {trimmed(marked_t)} t; one leg may carry {plain(leg_t)} t."
    if marked_t < leg_t:
        return Finding("Link or hook", Verdict.DISAGREE, told, rule, WEAKEST)
    if joins and marked_t < LINK_FACTOR * leg_t:
        text = (
            f"{told} As a hook it is strong enough; as a link that joins legs it is not:"
            f" {trimmed(LINK_FACTOR * leg_t)} t is asked for."
        )
        return Finding("Link or hook", Verdict.CANNOT_SAY, text, rule, BUILD_EN)
    return Finding("Link or hook", Verdict.AGREE, told, rule, BUILD_EN if joins else WEAKEST)


def _times_d(times: int, leg: BuiltLeg, *, quantity: str, source: Source) -> Derived:
    length = times * leg.diameter_mm
    return Derived(
        quantity=quantity,
        symbol="Lmin",
        formula="Lmin = n d",
        inputs=(
            Given("n", "rope diameters", str(times), "", source),
            Given("d", "nominal diameter", trimmed(leg.diameter_mm), "mm"),
        ),
        source=source,
        unrounded=length,
        stated=Decimal(trimmed(length)),
        unit="mm",
        rounding="not rounded",
        basis=quantity,
    )
