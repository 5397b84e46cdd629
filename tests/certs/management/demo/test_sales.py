"""The trade of the demonstration: the same every time, single lengths, what was ordered."""

import pytest
from django.db import transaction

from certs.management.demo import bench, cast, goods_in, sales
from certs.management.demo.stage import Stage
from inventory.models import CutPiece, OrderLine

pytestmark = pytest.mark.django_db


@pytest.fixture
def traded(tables):
    """Two orders for the first load."""
    return trade()


def trade():
    stage = Stage()
    cast.hire(stage, password="only-for-this-test")
    cast.register_firms(stage)
    goods_in.record_heats(stage)
    goods_in.receive_reels(stage, wave=1)
    sales.trade(stage, for_sale=list(stage.reels.values()), orders=2)
    return stage


def pieces():
    return list(CutPiece.objects.values_list("code", "reel__code", "from_mm", "to_mm", "cut_at"))


def test_it_is_the_same_every_time(tables):
    with transaction.atomic():
        trade()
        first = pieces()
        transaction.set_rollback(True)
    trade()
    assert pieces() == first != []


def test_every_piece_is_one_length_as_ordered(traded):
    lines = OrderLine.objects.prefetch_related("pieces")
    assert all(line.as_one_length for line in lines)
    for line in lines:
        lengths_mm = [piece.length_mm for piece in line.pieces.all()]
        assert 1 <= len(lengths_mm) <= line.quantity
        assert all(line.length_mm <= mm <= line.length_mm * 1.01 for mm in lengths_mm)


def test_scrap_and_samples_come_off_the_free_end(traded):
    reel = traded.reels["TS-78"]
    sales.scrap(traded, [reel])
    piece = bench.sample(traded, "TS-78", length_mm=1500)
    scrap = CutPiece.objects.get(purpose="scrap")
    assert (piece.purpose, piece.length_mm) == ("sample", 1500)
    assert piece.from_mm == scrap.to_mm
