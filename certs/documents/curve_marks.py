"""Decides what is marked on the curve of a force log, and where the facts of a test say it is."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from certs.documents.curve_points import where_force_was

Sample = tuple[float, float]
"""Time in s and force in N."""


@dataclass(frozen=True, slots=True)
class CurveMarks:
    """What is marked on the curve: forces in N, times in s.

    `plateau` is its start, its end and the lowest force within; `peak` its time and force. `mark_n`
    is the force from which a break is to be loaded slowly, `slow` when that began and ended.
    """

    target_n: float | None = None
    ceiling_n: float | None = None
    plateau: tuple[float, float, float] | None = None
    peak: Sample | None = None
    mark_n: float | None = None
    slow: tuple[float, float] | None = None


def marks_of(test: Mapping[str, Any]) -> CurveMarks:
    """Take the marks out of the facts of a test of either kind; papers of earlier days hold fewer.

    The facts hold whole milliseconds and newtons, and a curve that is not empty.
    """
    plateau, loading = test.get("plateau"), test.get("loading")
    return CurveMarks(
        target_n=test["required_n"],
        ceiling_n=test.get("ceiling_n"),
        plateau=plateau
        and (plateau["from_ms"] / 1000, plateau["to_ms"] / 1000, float(plateau["lowest_n"])),
        peak=where_force_was(test["curve"], force_n=test["peak_n"]),
        mark_n=loading and loading["mark_n"],
        slow=_slow(loading),
    )


def _slow(loading: Mapping[str, Any] | None) -> tuple[float, float] | None:
    if not loading or loading["marked_ms"] is None:
        return None
    return loading["marked_ms"] / 1000, loading["peak_ms"] / 1000
