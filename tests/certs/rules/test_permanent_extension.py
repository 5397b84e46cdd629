"""Permanent extension: what stays of a gauge length. Every case is worked by hand."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from certs.rules.permanent_extension import (
    ExtensionOutcome,
    permanent_extension,
    read_limit_pct,
)
from inventory.rules.refusal import Refusal

LENGTHS = st.integers(1, 10**8)
LIMITS = st.one_of(st.none(), st.decimals("0", "100", places=3))


@pytest.mark.parametrize(
    ("before_um", "after_um", "unrounded", "stated"),
    [
        # 1002.5 mm from 1000 mm: 2.5 / 1000.
        pytest.param(1_000_000, 1_002_500, "0.25", "0.25", id="a quarter per cent"),
        # 503 mm from 500 mm: 3 / 500.
        pytest.param(500_000, 503_000, "0.6", "0.60", id="three millimetres of five hundred"),
        pytest.param(800_000, 800_000, "0", "0.00", id="none"),
        # 799.92 mm from 800 mm: -0.08 / 800.
        pytest.param(800_000, 799_920, "-0.01", "-0.01", id="shorter"),
        # 0.05 mm of 1000 mm is half a step of 0.01 %.
        pytest.param(1_000_000, 1_000_050, "0.005", "0.01", id="half a step"),
    ],
)
def test_extension_in_per_cent_of_the_gauge_length(before_um, after_um, unrounded, stated):
    found = permanent_extension(before_um=before_um, after_um=after_um, limit_pct=None).derived
    assert found.unrounded == Decimal(unrounded)
    assert str(found.stated) == stated
    assert found.unit == "%"


def test_the_derivation_is_told_with_its_figures():
    derived = permanent_extension(before_um=1_000_000, after_um=1_002_500, limit_pct=None).derived
    assert "e = 100 × (1002.5 - 1000) / 1000 = 0.25 % → 0.25 %" in " ".join(derived.steps())
    assert derived.is_provisional


@pytest.mark.parametrize(
    ("after_um", "limit", "outcome", "words"),
    [
        pytest.param(1_005_000, "0.5", "within", "within the limit of 0.5 %", id="on the limit"),
        pytest.param(1_005_001, "0.5", "beyond", "beyond the limit of 0.5 %", id="a hair beyond"),
        pytest.param(999_000, "0.5", "cannot_say", "check the readings", id="shorter, limited"),
        pytest.param(1_050_000, None, "told", "No limit was named", id="no limit is invented"),
        pytest.param(999_000, None, "told", "check the readings", id="shorter, unlimited"),
        pytest.param(1_000_000, "0", "within", "within the limit of 0 %", id="nothing may stay"),
    ],
)
def test_only_a_named_limit_decides(after_um, limit, outcome, words):
    found = permanent_extension(
        before_um=1_000_000, after_um=after_um, limit_pct=None if limit is None else Decimal(limit)
    )
    assert found.outcome == outcome
    assert words in found.told


@pytest.mark.parametrize(
    ("before_um", "after_um", "field"), [(0, 5, "gauge_before_um"), (5, -1, "gauge_after_um")]
)
def test_a_length_that_is_none_is_refused(before_um, after_um, field):
    with pytest.raises(Refusal) as refused:
        permanent_extension(before_um=before_um, after_um=after_um, limit_pct=None)
    assert refused.value.field == field


@pytest.mark.parametrize(
    ("text", "limit"),
    [("", None), ("  ", None), ("0.5", "0.5"), ("0,25 %", "0.25"), ("1", "1"), ("100", "100")],
)
def test_limits_that_can_be_read(text, limit):
    assert read_limit_pct(text) == (None if limit is None else Decimal(limit))


@pytest.mark.parametrize(
    "text", ["-1", "1e2", "half", "100.1", "1.2.3", "NaN", ".", "²", "0.12345"]
)
def test_limits_that_cannot(text):
    with pytest.raises(Refusal) as refused:
        read_limit_pct(text)
    assert refused.value.field == "extension_limit_pct"


@given(LENGTHS, LENGTHS, LENGTHS, LIMITS)
def test_a_longer_rest_is_never_judged_better(before_um, one_um, other_um, limit):
    order = [ExtensionOutcome.CANNOT_SAY, ExtensionOutcome.WITHIN, ExtensionOutcome.BEYOND]
    shorter, longer = sorted((one_um, other_um))
    found = [
        permanent_extension(before_um=before_um, after_um=after_um, limit_pct=limit)
        for after_um in (shorter, longer)
    ]
    if limit is None:
        assert {one.outcome for one in found} == {ExtensionOutcome.TOLD}
    else:
        assert order.index(found[0].outcome) <= order.index(found[1].outcome)


@given(LENGTHS, LENGTHS, st.integers(1, 1000))
def test_the_unit_of_the_gauge_changes_nothing(before_um, after_um, times):
    one = permanent_extension(before_um=before_um, after_um=after_um, limit_pct=None)
    many = permanent_extension(
        before_um=before_um * times, after_um=after_um * times, limit_pct=None
    )
    assert one.derived.stated == many.derived.stated
