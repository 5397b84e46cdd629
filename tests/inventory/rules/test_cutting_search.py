from inventory.rules.cutting_job import Layout, job_of
from inventory.rules.cutting_search import improved
from tests.inventory.rules.cutting import M, reels, wants


def layout(demands, stock, *placed, shortest_m=0):
    found = Layout.empty(job_of(demands, stock, shortest_usable_mm=shortest_m * M))
    for number, slot in enumerate(placed):
        found.put(number, slot, found.job.wants[number].length)
    return found


def lengths(found):
    unit = found.job.unit_mm
    return [sorted(length * unit // M for _, length in placed) for placed in found.pieces]


def test_two_reels_with_scraps_share_their_pieces_anew():
    poor = layout(wants(60, 30, 50, 40), reels(100, 100), 0, 0, 1, 1, shortest_m=20)
    assert poor.score()[1] == 2  # 10 m on each, in units of 10 m
    assert sorted(lengths(improved(poor))) == [[30, 50], [40, 60]]


def test_a_scrap_stays_where_no_sharing_mends_it():
    poor = layout(wants(90), reels(100), 0, shortest_m=20)
    assert improved(poor) is poor


def test_a_reel_is_closed_when_the_others_take_its_pieces():
    poor = layout(wants(60, 20), reels(100, 100), 0, 1)
    assert lengths(improved(poor)) == [[20, 60], []]


def test_an_older_reel_is_cut_where_it_serves_as_well():
    poor = layout(wants(60), reels(50, 70, 100), 2)
    assert lengths(improved(poor)) == [[], [60], []]


def test_what_is_good_already_stays():
    good = layout(wants(60), reels(100, 100), 0)
    assert improved(good) is good
