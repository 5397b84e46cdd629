"""What the rules on proof loads that apply to an assembly ask for, by legs and angle.

Which rules apply is decided by `certs.rules.proof_regime`; none is chosen here.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from certs.queries.sling_ratings import RatedLoad
from certs.queries.specification_rows import proof_load_rows
from certs.queries.strength import AssemblyStrength
from certs.rules.derived import Derived
from certs.rules.proof_load import ProofRefused, ProofRow, proof_load
from certs.rules.proof_regime import Applies, Placed, Regime, proof_regimes
from certs.rules.termination import TerminationKind
from inventory.models import Assembly

UPRIGHT = "vertical rated load"


@dataclass(frozen=True, slots=True)
class ProofAsked:
    """One load asked for; `proof` in kN, None where `refusal` says why there is none."""

    row: ProofRow
    load: RatedLoad
    proof: Derived | None
    refusal: str = ""

    @property
    def text(self) -> str:
        """Give the load with its unit, or why there is none."""
        return self.proof.text if self.proof else self.refusal


@dataclass(frozen=True, slots=True)
class RegimeAsked:
    """A body of rules, and what each of its rows asks for; nothing while nothing is rated."""

    regime: Regime
    asked: tuple[ProofAsked, ...]


def proof_asked(strength: AssemblyStrength) -> tuple[RegimeAsked, ...]:
    """Tell the rules that apply to an assembly with the loads that they ask for."""
    assembly = strength.assembly
    ends = frozenset(end.kind for piece in strength.pieces for end in piece.ends)
    placed = Placed(
        is_lifting=assembly.use == Assembly.Use.LIFTING,
        is_endless=assembly.kind == Assembly.Kind.ENDLESS,
        convention=strength.convention,
        market_date=assembly.market_date,
        ends=ends,
    )
    return tuple(
        RegimeAsked(
            regime,
            tuple(
                _asked(row, load, ends)
                for row in regime.rows
                if row.steps
                for load in _loads_of(row, strength)
            ),
        )
        for regime in proof_regimes(placed, rows=proof_load_rows())
    )


def applying(told: Iterable[RegimeAsked]) -> list[RegimeAsked]:
    """Keep the rules that apply, or may: not those of a use that nobody has spoken of."""
    return [one for one in told if one.regime.applies is not Applies.ONLY_IF]


def only_elsewhere(told: Iterable[RegimeAsked]) -> list[RegimeAsked]:
    """Keep the rules that hold only for a certain use or make."""
    return [one for one in told if one.regime.applies is Applies.ONLY_IF]


def _loads_of(row: ProofRow, strength: AssemblyStrength) -> Sequence[RatedLoad]:
    """A rule on the vertical rated load speaks of each leg by itself, pulled straight."""
    if row.rated_by == UPRIGHT and strength.loads and not _is_endless(strength):
        return tuple(_known(strength.leg))
    return strength.loads


def _is_endless(strength: AssemblyStrength) -> bool:
    return strength.assembly.kind == Assembly.Kind.ENDLESS


def _known(load: RatedLoad | None) -> Iterator[RatedLoad]:
    if load is not None:
        yield load


def _asked(row: ProofRow, load: RatedLoad, ends: frozenset[TerminationKind]) -> ProofAsked:
    try:
        found = proof_load(rated_t=load.rating.governing_t, row=row, ends=ends)
    except ProofRefused as refusal:
        return ProofAsked(row, load, None, refusal.message)
    return ProofAsked(row, load, found)
