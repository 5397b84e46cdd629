"""Decides how a force log is drawn: force in kN over time in s, with target, plateau and peak.

Peak, plateau and target are found and judged elsewhere; here they are only marked where they are
said to be. The same facts in words: load_curve_table.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from certs.documents.curve_limits import (
    LABEL_SIZE,
    LINE_OF_TEXT,
    Limit,
    clear_of,
    kilonewtons,
    margin,
    named_limits,
)
from certs.documents.curve_marks import CurveMarks, Sample
from certs.documents.curve_points import thinned
from certs.documents.curve_slow import slow_ground, slow_words
from inventory.documents.scale import Scale, plain, round_step, round_ticks
from inventory.documents.svg import (
    ACCENT,
    INK,
    PAPER,
    SOFT,
    TINT,
    Drawing,
    Spoken,
    drawing,
    element,
    text,
    text_width,
)

_LEFT, _RIGHT, _TOP, _BOTTOM = 58.0, 14.0, 24.0, 42.0
_TREMBLE, _ABOVE_PEAK = 0.03, 22.0


@dataclass(frozen=True, slots=True)
class _Field:
    """The two scales of the drawing: time in s to the right, force in kN upwards."""

    time: Scale
    force: Scale


def draw_load_curve(
    *,
    samples: Sequence[Sample],
    marks: CurveMarks | None = None,
    title: str = "Force over time",
    width: int = 720,
    height: int = 320,
    prefix: str = "load-curve",
) -> Drawing:
    """Draw a force log, every extreme kept; width and height in user units."""
    given = marks or CurveMarks()
    parts: list[str] = []
    if samples:
        field = _field(samples, given, width=width, height=height)
        parts += [*_axes(field), *slow_ground(field.time, field.force, given)]
        parts += [*_plateau(field, given), *_limits(field, given)]
        parts += [_curve(field, samples), *_peak(field, given)]
    else:
        # No axes: a scale would be invented.
        parts.append(text("No samples recorded", {"x": _LEFT, "y": _TOP}))
    return drawing(
        width=width,
        height=height if samples else _TOP * 2,
        spoken=Spoken(prefix, title, describe_curve(samples=samples, marks=given)),
        parts=parts,
    )


def describe_curve(*, samples: Sequence[Sample], marks: CurveMarks) -> str:
    """Say in a few sentences what the curve shows."""
    if not samples:
        return "No samples recorded."
    first, last = samples[0][0], samples[-1][0]
    said = [f"{len(samples)} samples from {plain(first)} s to {plain(last)} s."]
    if marks.target_n is not None:
        said.append(f"Target {kilonewtons(marks.target_n)}.")
    if marks.ceiling_n is not None:
        said.append(f"Not to be exceeded: {kilonewtons(marks.ceiling_n)}.")
    if marks.mark_n is not None:
        said.append(f"80 % of the target is {kilonewtons(marks.mark_n)}.")
    if marks.slow is not None:
        start, end = marks.slow
        said.append(f"{slow_words(marks).capitalize()}, from {plain(start)} s to {plain(end)} s.")
    if marks.plateau is not None:
        start, end, lowest = marks.plateau
        held = plain(round(end - start, 3))
        said.append(
            f"Held {held} s, from {plain(start)} s to {plain(end)} s,"
            f" never below {kilonewtons(lowest)}."
        )
    if marks.peak is not None:
        said.append(f"Peak {kilonewtons(marks.peak[1])} at {plain(marks.peak[0])} s.")
    return " ".join(said)


def _field(samples: Sequence[Sample], marks: CurveMarks, *, width: int, height: int) -> _Field:
    """Choose scales that hold every sample and mark; force starts at zero unless far below."""
    times = [time for time, _ in samples]
    limits = [limit.force_n for limit in _named(marks)]
    forces = [force / 1000 for force in (0.0, *(force for _, force in samples), *limits)]
    high = max(forces) or 1.0
    # The zero of a load cell trembles: a scale that went below nought for it would mislead.
    low = min(forces) if min(forces) < -_TREMBLE * high else 0.0
    # Above the peak there is room for its words.
    room = 1 + _ABOVE_PEAK / (height - _TOP - _BOTTOM)
    step = round_step((high - low) * room, at_most=7)
    first, last = min(times), max(times)
    return _Field(
        time=Scale(
            first,
            last if last > first else first + 1,
            _LEFT,
            width - _RIGHT - margin(_named(marks)),
        ),
        force=Scale(
            low if low == 0 else (low // step) * step,
            -(-(high * room) // step) * step,
            height - _BOTTOM,
            _TOP,
        ),
    )


def _axes(field: _Field) -> Iterator[str]:
    """Yield both axes with round values and their units."""
    time, force = field.time, field.force
    times = round_ticks(time.low, time.high, at_most=8)
    forces = round_ticks(force.low, force.high, at_most=8)
    grid = "".join(f"M{time.start:.2f} {force.at(f):.2f}H{time.end:.2f}" for f in forces)
    yield element(
        "path", {"class": "draw-grid", "d": grid, "stroke": "#d5d9dd", "stroke-width": 0.6}
    )
    marks = "".join(f"M{time.at(t):.2f} {force.start:.2f}v5" for t in times)
    axes = f"M{time.start:.2f} {force.end:.2f}V{force.start:.2f}H{time.end:.2f}{marks}"
    yield element("path", {"class": "draw-line", "d": axes, "fill": "none", "stroke": INK})
    for tick in times:
        yield text(
            plain(tick), {"x": time.at(tick), "y": force.start + 18, "text-anchor": "middle"}
        )
    for tick in forces:
        place: dict[str, str | float] = {"x": time.start - 8, "y": force.at(tick) + 4}
        yield text(plain(tick), {**place, "text-anchor": "end"})
    soft: dict[str, str | float] = {"class": "draw-soft", "fill": SOFT, "font-size": 12}
    yield text("Force in kN", {**soft, "x": 6, "y": 12})
    yield text("Time in s", {**soft, "x": time.end, "y": force.start + 34, "text-anchor": "end"})


def _named(marks: CurveMarks) -> list[Limit]:
    return named_limits(target_n=marks.target_n, ceiling_n=marks.ceiling_n, mark_n=marks.mark_n)


def _limits(field: _Field, marks: CurveMarks) -> Iterator[str]:
    """Yield the target and the force not to be exceeded, each a line named at its right end."""
    lowest_free = field.force.start
    for limit in _named(marks):
        y = field.force.at(limit.force_n / 1000)
        line: dict[str, str | float] = {
            "class": "draw-accent-line",
            "d": f"M{field.time.start:.2f} {y:.2f}H{field.time.end:.2f}",
            "stroke": ACCENT,
            "stroke-width": 1.2,
            "stroke-dasharray": limit.dashes,
        }
        yield element("path", line)
        baseline = min(y + 4, lowest_free)
        lowest_free = baseline - LINE_OF_TEXT
        place: dict[str, str | float] = {"x": field.time.end + 6, "y": baseline}
        look: dict[str, str | float] = {
            "class": "draw-accent",
            "font-size": LABEL_SIZE,
            "fill": ACCENT,
        }
        yield text(limit.words, {**look, **place})


def _plateau(field: _Field, marks: CurveMarks) -> Iterator[str]:
    """Yield the time of the plateau as a ground under the curve, with its ends and its low."""
    if marks.plateau is None:
        return
    start, end, lowest = marks.plateau
    left, right = field.time.at(start), field.time.at(end)
    top, bottom = field.force.at(lowest / 1000), field.force.at(0.0)
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
    words = (f"held {plain(round(end - start, 3))} s", f"lowest {kilonewtons(lowest)}")
    for index, line in enumerate(words):
        yield text(
            line,
            {
                "x": (left + right) / 2,
                "y": (top + bottom) / 2 + 14 * index,
                "text-anchor": "middle",
                "font-size": 12,
            },
        )


def _curve(field: _Field, samples: Sequence[Sample]) -> str:
    points = [(field.time.at(t), field.force.at(n / 1000)) for t, n in samples]
    path = "L".join(f"{x:.2f} {y:.2f}" for x, y in thinned(points, column=0.5))
    look = {"class": "draw-line draw-curve", "d": f"M{path}", "fill": "none", "stroke": INK}
    return element("path", {**look, "stroke-width": 1.6, "stroke-linejoin": "round"})


def _peak(field: _Field, marks: CurveMarks) -> Iterator[str]:
    """Yield a ring on the peak and its force above it, on the side that has room."""
    if marks.peak is None:
        return
    time, force_n = marks.peak
    x, y = field.time.at(time), field.force.at(force_n / 1000)
    words = f"peak {kilonewtons(force_n)}"
    width = text_width(words, size=12)
    left = x + 8 if x + 8 + width < field.time.end else x - 8 - width
    lines = [field.force.at(limit.force_n / 1000) for limit in _named(marks)]
    baseline = clear_of(lines, baseline=y - 9)
    ring: dict[str, str | float] = {
        "class": "draw-paper draw-line",
        "cx": x,
        "cy": y,
        "r": 4,
        "fill": PAPER,
    }
    yield element("circle", {**ring, "stroke": INK, "stroke-width": 1.6})
    yield text(words, {"x": left, "y": baseline, "font-weight": "700"})
