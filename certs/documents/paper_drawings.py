"""Draws what a paper shows: where its metres lie on the mill's reel, and the logs of its tests."""

from collections.abc import Mapping, Sequence
from typing import Any

from certs.documents.curve_marks import marks_of
from certs.documents.load_curve import describe_curve, draw_load_curve
from inventory.documents.reel_map import describe_reel, draw_reel_map
from inventory.documents.reel_stretches import MapHeat, MapKind, MapStretch
from inventory.documents.svg import image_source

MAP_WIDTH = 720

Snapshot = Mapping[str, Any]


def reel_maps(snapshot: Snapshot) -> list[dict[str, object]]:
    """Draw each mill's reel with the paper's metres lit."""
    return [_map(facts) for facts in snapshot["reel_maps"]]


def force_curves(snapshot: Snapshot) -> list[dict[str, object]]:
    """Draw the log of each test that has one."""
    return [_curve(test) for test in _logged(snapshot)]


def _map(facts: Mapping[str, Any]) -> dict[str, object]:
    """Draw a mill's reel with this paper's metres lit."""
    lit = [
        MapStretch(piece["from_mm"], piece["to_mm"], MapKind.SUPPLY, piece["label"], is_lit=True)
        for piece in facts["lit"]
    ]
    other = [
        MapStretch(part["from_mm"], part["to_mm"], MapKind(part["kind"]), "")
        for part in facts["other"]
    ]
    heats = [MapHeat(h["from_mm"], h["to_mm"], h["number"]) for h in facts["heats"]]
    stretches = sorted([*lit, *other], key=lambda s: s.from_mm)
    drawing = draw_reel_map(
        length_mm=facts["length_mm"], stretches=stretches, heats=heats, width=MAP_WIDTH
    )
    return {
        "reel": facts["reel"],
        "image": image_source(drawing),
        "words": describe_reel(length_mm=facts["length_mm"], pieces=stretches),
    }


def _logged(snapshot: Snapshot) -> Sequence[Mapping[str, Any]]:
    tests = [*snapshot["proof_tests"], *snapshot["breaking_tests"]]
    return [test for test in tests if test["curve"]]


def _curve(test: Mapping[str, Any]) -> dict[str, object]:
    """Draw a force log; the curve holds whole milliseconds and newtons."""
    marks = marks_of(test)
    samples = [(ms / 1000, float(force_n)) for ms, force_n in test["curve"]]
    drawing = draw_load_curve(samples=samples, marks=marks, width=MAP_WIDTH, height=230)
    return {
        "code": test["code"],
        "image": image_source(drawing),
        "words": describe_curve(samples=samples, marks=marks),
    }
