"""Whether the proof load that was put on reaches, and does not pass, what a rule asks for.

Which rules apply is decided by `proof_regime`, the load of each by `proof_load`. Which proof load
is owed is for the order, the law of the place and a competent person: this only compares.
"""

from collections.abc import Sequence
from typing import Final

from certs.rules.derived import Derived, Given
from certs.rules.finding import Finding, Verdict, against
from certs.rules.proof_load import ProofRow
from inventory.rules.units import format_kn

N_PER_KN: Final = 1000


def proof_reached(
    *, proved_n: int, peak_n: int, row: ProofRow, asked: Sequence[Derived], is_provisional: bool
) -> Finding:
    """Compare a passed proof load in N with the loads in kN that one rule asks for.

    `asked` has one load for each band of angles; how the sling was pulled is not on record, so
    that between the least and the most of them nothing can be said. A load to be reached is held
    against `proved_n`, one not to be passed against the `peak_n` of the log. `is_provisional`
    says that the rated load itself is no authority. Raises ValueError for no load asked for.
    """
    least_n, most_n = (int(pick(one.stated for one in asked) * N_PER_KN) for pick in (min, max))
    doubtful = is_provisional or any(one.is_provisional for one in asked)
    if row.is_ceiling:
        is_met, is_broken, put_on_n = peak_n <= least_n, peak_n > most_n, peak_n
        limit = "at most"
    else:
        is_met, is_broken, put_on_n = proved_n >= most_n, proved_n < least_n, proved_n
        limit = "at least"
    verdict = against(is_met=is_met, is_provisional=doubtful or not is_broken)
    span = format_kn(least_n) if least_n == most_n else f"{format_kn(least_n)} to {_to(most_n)}"
    told = f"{format_kn(put_on_n)} was put on; {limit} {span} is asked for."
    return Finding(
        topic="Proof load",
        verdict=verdict,
        text=told + _why(verdict, is_doubtful=doubtful),
        rule=f"{row.item}: {row.printed}",
        source=row.source,
        given=(Given("F", "force put on", format_kn(put_on_n), ""),),
        derived=tuple(asked),
    )


def _to(most_n: int) -> str:
    return f"{format_kn(most_n)}, by legs and angle,"


def _why(verdict: Verdict, *, is_doubtful: bool) -> str:
    if verdict is Verdict.CANNOT_SAY and is_doubtful:
        return " A figure behind it is from memory, so it warns and does not reject."
    if verdict is Verdict.CANNOT_SAY:
        return " How the sling was pulled is not on record."
    return ""
