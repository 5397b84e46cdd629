from datetime import date

import pytest

from certs.rules.proof_regime import Applies, Placed, proof_regimes
from certs.rules.sling_legs import AngleConvention
from certs.rules.termination import TerminationKind
from tests.certs.rules.tables import PROOF_LOADS

EN, US = AngleConvention.FROM_VERTICAL, AngleConvention.FROM_HORIZONTAL
EYES, SPLICES, SOCKETS = (
    frozenset({TerminationKind.FERRULE_SECURED_EYE}),
    frozenset({TerminationKind.HAND_SPLICE}),
    frozenset({TerminationKind.SOCKET}),
)
SHIP = ("Ship’s cargo gear", "only_if", ["ship_gear_fitting", "loose_gear"])


def told(ends=EYES, *, convention=EN, day=None, lifting=True, endless=False):
    placed = Placed(
        is_lifting=lifting, is_endless=endless, convention=convention, market_date=day, ends=ends
    )
    return proof_regimes(placed, rows=PROOF_LOADS.values())


def names(regimes):
    return [(r.name, r.applies.value, [row.key for row in r.rows]) for r in regimes]


# 2006/42/EC Annex I 4.1.2.5 (read), 4.1.2.3 (memory); its end in January 2027 is from memory.
@pytest.mark.parametrize(
    ("day", "name"),
    [
        pytest.param(date(2026, 11, 25), "Machinery Directive 2006/42/EC", id="before"),
        pytest.param(date(2027, 1, 19), "Machinery Directive 2006/42/EC", id="last-day"),
        pytest.param(date(2027, 1, 20), "Machinery Regulation (EU) 2023/1230", id="first-day"),
        pytest.param(date(2030, 1, 1), "Machinery Regulation (EU) 2023/1230", id="after"),
    ],
)
def test_the_law_of_the_market_day_applies(day, name):
    found = names(told(day=day))
    assert found == [(name, "yes", ["sling_accessory_static"]), SHIP]


def test_without_a_day_both_are_told_as_open():
    first, second, _ = told()
    assert (first.applies, second.applies) == (Applies.DEPENDS, Applies.DEPENDS)
    assert "not on record" in first.reason
    assert first.applies.words == "depends on what is not on record"


def test_the_coefficient_under_the_regulation_is_provisional_and_says_so():
    regime = told(day=date(2027, 2, 1))[0]
    assert regime.source.is_provisional
    assert "was not read" in regime.rows[0].source.name
    # The figure is that of the Directive, carried over.
    assert regime.rows[0].printed == "1.5 x WLL (general rule)"


# ASME B30.9 as cited on a US national-laboratory test form (read); 29 CFR 1910.184(f)(4).
@pytest.mark.parametrize(
    ("ends", "endless", "keys"),
    [
        pytest.param(EYES, False, ["sling_mechanical_splice"], id="mechanical"),
        pytest.param(SOCKETS, True, ["sling_mechanical_splice"], id="endless"),
        pytest.param(SOCKETS, False, [], id="no-figure-for-sockets"),
    ],
)
def test_american_slings(ends, endless, keys):
    first, welded, *_ = told(ends, convention=US, endless=endless)
    assert [row.key for row in first.rows] == keys
    assert (first.applies is Applies.NO_FIGURE) is (not keys)
    assert [row.key for row in welded.rows] == ["welded_end_attachment"]


@pytest.mark.parametrize("convention", [EN, US])
@pytest.mark.parametrize("ends", [SPLICES, SPLICES | EYES], ids=["spliced", "mixed"])
def test_a_hand_splice_keeps_its_ceiling_everywhere(convention, ends):
    found = told(ends, convention=convention, day=date(2026, 1, 1))
    rows = [row for regime in found for row in regime.rows]
    assert [row.key for row in rows if row.is_ceiling] == ["sling_hand_tucked"]
    assert "sling_mechanical_splice" not in [row.key for row in rows]


def test_what_lifts_nothing_has_no_figure():
    (only,) = told(lifting=False)
    assert (only.applies, only.rows) == (Applies.NO_FIGURE, ())


def test_without_the_table_no_row_is_made_up():
    placed = Placed(is_lifting=True, is_endless=False, convention=EN, market_date=None, ends=EYES)
    assert all(regime.rows == () for regime in proof_regimes(placed, rows=()))
