"""Decides the shape of each kind of result on a control chart; colour never tells alone."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from certs.rules.maker_record import Standing
from inventory.documents.svg import INK, PAPER, SOFT, WARM, element

WORDS: Final[Mapping[Standing, str]] = MappingProxyType(
    {
        Standing.MEETS: "broke clear of the grips",
        Standing.FAILS: "below the required force",
        Standing.LOWER_BOUND: "near a grip: at least this",
        Standing.DISCOUNTED: "discounted, not counted",
        Standing.IN_DOUBT: "machine in doubt, not counted",
        Standing.PLACE_UNKNOWN: "place of break unknown, not counted",
    }
)

_R = 4.5


def ring(x: float, y: float) -> str:
    """Draw the ring about a result beyond the limits."""
    look: dict[str, str | float] = {
        "class": "draw-warm-line",
        "fill": "none",
        "stroke": WARM,
        "stroke-width": 1.8,
    }
    return element("circle", {**look, "cx": x, "cy": y, "r": 2 * _R})


def _dot(x: float, y: float) -> str:
    return element("circle", {"class": "draw-ink", "fill": INK, "cx": x, "cy": y, "r": _R})


def _cross(x: float, y: float) -> str:
    arms = f"M{x - _R:.2f} {y - _R:.2f}l{2 * _R} {2 * _R}m0 {-2 * _R}l{-2 * _R} {2 * _R}"
    look: dict[str, str | float] = {
        "class": "draw-warm-line",
        "stroke": WARM,
        "stroke-width": 2.6,
        "fill": "none",
    }
    return element("path", {**look, "d": arms})


def _arrow(x: float, y: float) -> str:
    """Stand on the measured value and point up: the truth is above."""
    shaft = f"M{x - _R:.2f} {y:.2f}h{2 * _R}M{x:.2f} {y:.2f}v{-3 * _R}"
    head = f"M{x - _R:.2f} {y - 2 * _R:.2f}l{_R} {-1.4 * _R:.2f}l{_R} {1.4 * _R:.2f}"
    look: dict[str, str | float] = {
        "class": "draw-line",
        "stroke": INK,
        "stroke-width": 1.8,
        "fill": "none",
    }
    return element("path", {**look, "d": shaft + head})


def _diamond(x: float, y: float) -> str:
    side = f"M{x:.2f} {y - 1.3 * _R:.2f}l{_R} {1.3 * _R:.2f}l{-_R} {1.3 * _R:.2f}"
    return _hollow(f"{side}l{-_R} {-1.3 * _R:.2f}z")


def _square(x: float, y: float) -> str:
    return _hollow(f"M{x - _R:.2f} {y - _R:.2f}h{2 * _R}v{2 * _R}h{-2 * _R}z")


def _wedge(x: float, y: float) -> str:
    return _hollow(f"M{x - _R:.2f} {y - _R:.2f}h{2 * _R}l{-_R} {2 * _R}z")


def _hollow(path: str) -> str:
    look: dict[str, str | float] = {
        "class": "draw-paper draw-soft-line",
        "fill": PAPER,
        "stroke": SOFT,
    }
    return element("path", {**look, "stroke-width": 1.5, "d": path})


MARKS: Final[Mapping[Standing, Callable[[float, float], str]]] = MappingProxyType(
    {
        Standing.MEETS: _dot,
        Standing.FAILS: _cross,
        Standing.LOWER_BOUND: _arrow,
        Standing.DISCOUNTED: _diamond,
        Standing.IN_DOUBT: _square,
        Standing.PLACE_UNKNOWN: _wedge,
    }
)
