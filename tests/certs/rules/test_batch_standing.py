from datetime import UTC, datetime, timedelta

import pytest

from certs.rules.batch_standing import (
    BatchProgress,
    BatchStanding,
    batch_progress,
    batch_standing,
)

NOW = datetime(2026, 3, 2, 10, tzinfo=UTC)


@pytest.mark.parametrize(
    ("quiet_s", "is_stopped", "is_finished", "standing"),
    [
        pytest.param(0, False, False, "at_work", id="moved just now"),
        pytest.param(60, False, False, "at_work", id="a minute ago is still at work"),
        pytest.param(61, False, False, "quiet", id="longer than a minute"),
        pytest.param(5, True, False, "stopping", id="stop asked for"),
        pytest.param(61, True, False, "quiet", id="stop asked for and nobody there to stop"),
        pytest.param(999, False, True, "finished", id="over is over"),
        pytest.param(0, True, True, "finished", id="stopped and over"),
        pytest.param(-30, False, False, "at_work", id="a worker whose clock is ahead"),
    ],
)
def test_a_batch_stands_as_its_last_move_says(quiet_s, is_stopped, is_finished, standing):
    found = batch_standing(
        moved_at=NOW - timedelta(seconds=quiet_s),
        is_stopped=is_stopped,
        is_finished=is_finished,
        now=NOW,
    )
    assert found == standing


@pytest.mark.parametrize(
    ("counts", "settled", "quarters"),
    [
        pytest.param({"waiting": 12}, 0, 0, id="nothing yet"),
        pytest.param({"waiting": 9, "issued": 3}, 3, 1, id="a quarter"),
        pytest.param({"waiting": 1, "issued": 9, "stayed": 2}, 11, 3, id="one short of all"),
        pytest.param({"issued": 5, "stayed": 2, "left_out": 5}, 12, 4, id="all"),
    ],
)
def test_what_stayed_or_was_left_out_is_settled_too(counts, settled, quarters):
    told = batch_progress(counts, BatchStanding.AT_WORK)
    assert (told.settled, told.quarters, told.total) == (settled, quarters, sum(counts.values()))


def test_a_batch_of_nothing_is_all_settled():
    assert BatchProgress(BatchStanding.FINISHED).quarters == 4
