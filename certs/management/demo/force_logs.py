"""Makes force logs of proof loads, as a bench writes them: invented, from a seed, and saying so."""

from itertools import pairwise
from random import Random

INVENTED = "Invented data for a demonstration. No such test was made."
READINGS_A_SECOND = 5
UP_S, HOLD_S, DOWN_S = 14.0, 66.0, 3.0


def proof_log(*, specimen: str, load_n: int, seed: int) -> bytes:
    """Return a log (CSV, s and kN) of a load reached and held for 66 s, sinking a little."""
    chance = Random(seed)  # noqa: S311 -- noise, not secrets
    corners = [
        (0.0, 0.05),
        (UP_S, load_n * 1.025 / 1000),
        (UP_S + HOLD_S, load_n * 1.02 / 1000),
        (UP_S + HOLD_S + DOWN_S, 0.05),
    ]
    lines = [INVENTED, f"Specimen;{specimen}", "Time [s];Force [kN]"]
    for number in range(round(corners[-1][0] * READINGS_A_SECOND) + 1):
        at = number / READINGS_A_SECOND
        noise = load_n / 1000 * 0.0008 * (chance.random() - 0.5)
        lines.append(f"{at:.1f};{_on_line(corners, at) + noise:.3f}")
    return "\r\n".join([*lines, ""]).encode()


def _on_line(corners: list[tuple[float, float]], at: float) -> float:
    for (start, low), (end, high) in pairwise(corners):
        if at <= end:
            return low + (high - low) * (at - start) / (end - start)
    return corners[-1][1]
