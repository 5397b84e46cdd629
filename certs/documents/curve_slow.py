"""Decides how the slow part of a loading is drawn: a ground behind the curve, from 80 % upwards."""

from collections.abc import Iterator

from certs.documents.curve_marks import CurveMarks
from inventory.documents.scale import Scale, plain
from inventory.documents.svg import SOFT, TINT, element, text, text_width

_SIZE = 12


def slow_ground(time: Scale, force: Scale, marks: CurveMarks) -> Iterator[str]:
    """Yield the ground of the slow part and how long it took, on whichever side has room."""
    if marks.slow is None or marks.mark_n is None:
        return
    left, right = (time.at(at) for at in marks.slow)
    top, bottom = force.end, force.at(marks.mark_n / 1000)
    yield element(
        "rect",
        {
            "class": "draw-tint",
            "x": left,
            "y": top,
            "width": max(right - left, 1.0),
            "height": max(bottom - top, 0.0),
            "fill": TINT,
        },
    )
    words = slow_words(marks)
    width = text_width(words, size=_SIZE)
    middle = min(max((left + right) / 2, time.start + width / 2), time.end - width / 2)
    look: dict[str, str | float] = {"class": "draw-soft", "fill": SOFT, "font-size": _SIZE}
    yield text(words, {**look, "x": middle, "y": bottom + 15, "text-anchor": "middle"})


def slow_words(marks: CurveMarks) -> str:
    """Say how long the slow part took; empty where it is not marked."""
    if marks.slow is None:
        return ""
    start, end = marks.slow
    return f"slow part {plain(round(end - start, 1))} s"
