"""What can be true of a test piece that was pulled until it broke.

A figure that cannot be is a slip of the hand; whether a possible one is good is judged elsewhere
(`breaking_test`).
"""

from typing import Final

from inventory.rules.refusal import Refusal
from inventory.rules.units import format_metres

# Own decision: colder or hotter than any room with a testing machine in it.
COLDEST_C: Final = -40
HOTTEST_C: Final = 60


def check_broken_piece(
    *,
    sample_mm: int,
    free_length_mm: int | None,
    break_distance_mm: int | None,
    temperature_c: int | None,
    is_break_place_known: bool = True,
) -> None:
    """Refuse a length or temperature (°C) that no test on this sample can have had.

    A break lies no farther from the nearest grip than half of the free length, and the free length
    is part of the sample. None is a figure that nobody gave. Raises `Refusal` with the field.
    """
    if free_length_mm is not None and not 0 < free_length_mm <= sample_mm:
        message = (
            f"The free length is part of the sample, which is {format_metres(sample_mm)} long;"
            " check it and its unit."
        )
        raise Refusal(message, field="free_length_mm")
    if break_distance_mm is not None and not is_break_place_known:
        message = (
            "A distance from the break to a grip was given: then it is known where the rope broke."
        )
        raise Refusal(message, field="break_distance_mm")
    between_grips_mm = free_length_mm or sample_mm
    if break_distance_mm is not None and 2 * break_distance_mm > between_grips_mm:
        message = (
            f"No break is {break_distance_mm} mm from the nearest of two grips that are"
            f" {between_grips_mm} mm apart at most; check both lengths."
        )
        raise Refusal(message, field="break_distance_mm")
    if temperature_c is not None and not COLDEST_C <= temperature_c <= HOTTEST_C:
        message = f"Give the temperature of the room in °C, from {COLDEST_C} to {HOTTEST_C}."
        raise Refusal(message, field="temperature_c")
