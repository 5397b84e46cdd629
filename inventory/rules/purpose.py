"""What an assembly is built for, and whether the sizes given of it can be.

How strong it is for that purpose is a claim, made elsewhere.
"""

from collections.abc import Iterable
from typing import Final

from inventory.rules.legs import LEGGED
from inventory.rules.refusal import Refusal

STATIC: Final = "static"
LIFTED_WITH: Final = LEGGED | {"endless"}


def check_purpose(kind: str, *, use: str, bend_mm: int | None) -> None:
    """Refuse a sling for static suspension, and a bearing point without thickness.

    Raises `Refusal` with the field that is wrong.
    """
    if use == STATIC and kind in LIFTED_WITH:
        message = (
            "A sling is made to lift, and is rated for it. Build what only holds something up as a"
            " rope with terminations that is not a sling."
        )
        raise Refusal(message, field="use")
    if bend_mm is not None and bend_mm <= 0:
        message = "Give the thickness of the thinnest pin or hook in mm, or leave it out."
        raise Refusal(message, field="bend_mm")


def check_sizes(*, length_mm: int, clear_mm: int | None, eyes_mm: Iterable[int | None]) -> None:
    """Refuse sizes of a finished piece that its length in mm cannot hold.

    Raises `Refusal` with the field that is wrong.
    """
    if clear_mm is not None and not 0 < clear_mm <= length_mm:
        message = f"The clear rope is above nought and at most the {length_mm} mm of the piece."
        raise Refusal(message, field="clear_mm")
    for eye_mm in eyes_mm:
        if eye_mm is not None and not 0 < eye_mm <= length_mm:
            message = f"The way round an eye is above nought and at most {length_mm} mm."
            raise Refusal(message, field="eye_mm")
