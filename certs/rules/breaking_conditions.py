"""How a breaking-force test should be made, and where one was not, or nobody can show it.

What the outcome of the test is, is decided by `breaking_test`.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from certs.rules.loading_rate import Loading
from certs.rules.loading_verdict import SLOW_PERCENT_PER_S
from inventory.rules.refusal import Refusal

TEST_STANDARD: Final = "ISO 3108:2017"

# Read in ISO 3108:2017.
NEAR_GRIP_DIAMETERS: Final = 6
TEMPERATURE_C: Final = (Decimal(10), Decimal(35))

NM_PER_MM: Final = 1_000_000


@dataclass(frozen=True, slots=True)
class FreeLength:
    """Free test length for ropes up to a diameter (nm; None: any): mm, or times the diameter."""

    up_to_nm: int | None
    length_mm: int = 0
    diameters: int = 0


# Recalled from an older edition of ISO 3108, not seen: guidance that a user may replace.
FREE_LENGTHS: Final = (
    FreeLength(up_to_nm=6_000_000, length_mm=300),
    FreeLength(up_to_nm=20_000_000, length_mm=600),
    FreeLength(up_to_nm=None, diameters=30),
)
FREE_LENGTH_SOURCE: Final = "ISO 3108, older edition (from memory: guidance only)"


@dataclass(frozen=True, slots=True)
class FreeLengthAsked:
    """A free length in mm that an order, a law or a standard asks for, and which that is.

    Raises `Refusal` for a length that is none, and for one without its source.
    """

    length_mm: int
    source: str

    def __post_init__(self) -> None:
        """Check both."""
        if self.length_mm <= 0:
            message = "A free length that is asked for is above nought."
            raise Refusal(message, field="free_length_asked_mm")
        if not self.source.strip():
            message = "Say what asks for this free length: the standard or the order."
            raise Refusal(message, field="free_length_source")


@dataclass(frozen=True, slots=True)
class Conditions:
    """How the test was made; None where nobody wrote it down, or no log shows the loading.

    `asked` is the free length that somebody asks for; without it the usual one is named.
    """

    temperature_c: Decimal | None = None
    free_length_mm: int | None = None
    loading: Loading | None = None
    asked: FreeLengthAsked | None = None


def free_length_mm(
    *, diameter_nm: int, lengths: tuple[FreeLength, ...] = FREE_LENGTHS
) -> int | None:
    """Return the free length between grips in mm that a rope should have, rounded up.

    `lengths` in rising order of diameter; None where they do not reach this rope.
    """
    for row in lengths:
        if row.up_to_nm is None or diameter_nm <= row.up_to_nm:
            return row.length_mm or -(-row.diameters * diameter_nm // NM_PER_MM)
    return None


def deviations_of(conditions: Conditions, *, diameter_nm: int) -> tuple[str, ...]:
    """Tell where a test was not made, or not shown to be made, as the standard asks."""
    return tuple(
        text
        for text in (
            _temperature(conditions.temperature_c),
            *_loading(conditions.loading),
            _length(conditions, diameter_nm=diameter_nm),
            _clear_length(conditions.free_length_mm, diameter_nm=diameter_nm),
        )
        if text
    )


def _temperature(temperature_c: Decimal | None) -> str:
    least, most = TEMPERATURE_C
    if temperature_c is None:
        return f"The temperature was not recorded; {TEST_STANDARD} asks for {least} to {most} °C."
    if least <= temperature_c <= most:
        return ""
    return f"It was {temperature_c} °C; {TEST_STANDARD} asks for {least} to {most} °C."


def _loading(loading: Loading | None) -> tuple[str, ...]:
    if loading is not None:
        return loading.deviations
    text = (
        f"No force log shows how fast the load rose; {TEST_STANDARD} allows {SLOW_PERCENT_PER_S} %"
        " of the required force per second above 80 % of it."
    )
    return (text,)


def _length(conditions: Conditions, *, diameter_nm: int) -> str:
    """Hold the free length against the one asked for, else against the usual one."""
    asked, was = conditions.asked, conditions.free_length_mm
    wanted = asked.length_mm if asked else free_length_mm(diameter_nm=diameter_nm)
    if wanted is None or (was is not None and was >= wanted):
        return ""
    rule = f"asked for: {asked.source}" if asked else f"usual: {FREE_LENGTH_SOURCE}"
    if was is None:
        return f"The free length was not recorded; {wanted} mm is {rule}."
    return f"The free length was {was} mm; {wanted} mm is {rule}."


def _clear_length(length_mm: int | None, *, diameter_nm: int) -> str:
    """Tell a sample so short that it has no place clear of both grips."""
    if length_mm is None or length_mm * NM_PER_MM > 2 * NEAR_GRIP_DIAMETERS * diameter_nm:
        return ""
    return (
        f"At a free length of {length_mm} mm every place lies within {NEAR_GRIP_DIAMETERS} rope"
        f" diameters of a grip: no break can be clear of both ({TEST_STANDARD})."
    )
