"""Plays the tests that are made from time to time on the rope most sold, and two readings of it.

Together with the first test of that rope they make a record of its maker. One breaks near a grip,
and of one nobody wrote down where it broke.
"""

from certs.management.demo.bench import break_sample
from certs.management.demo.stage import Stage
from certs.models import ReelReading
from certs.services.read_reel import read_reel

CLEAR: dict[str, int] = {}
NEAR = {"break_distance_mm": 25}
UNTOLD = {"is_break_place_known": False}
# Reels of 8 mm rope, the force in N at which each sample broke, and what is known of where.
SAMPLES = (
    ("K-2231", 42_900, CLEAR),
    ("K-2310", 41_900, CLEAR),
    ("K-2310", 42_300, UNTOLD),
    ("K-2231", 42_400, CLEAR),
    ("K-2310", 41_700, NEAR),
    ("K-2310", 42_100, CLEAR),
    ("K-2231", 43_000, CLEAR),
    ("K-2310", 42_200, CLEAR),
)
READ = "K-2310"
TARE_G = 46_000
# A little over the mass that the mill declares, as rope a little over its nominal diameter has.
G_PER_M, SCALE_G = 263, 500


def break_from_time_to_time(stage: Stage) -> None:
    """Break a sample each working day."""
    for reel, peak_n, place in SAMPLES:
        stage.calendar.wait(days=1)
        break_sample(
            stage,
            reel,
            peak_n=peak_n,
            note="periodic test of the rope most sold",
            **place,
        )


def read_a_reel(stage: Stage) -> None:
    """Measure the winding of a reel, and weigh it: the ledger is borne out."""
    reel = stage.reels[READ]
    wound = read_reel(
        reel=reel,
        kind=ReelReading.Kind.DRUM,
        barrel_mm=250,
        traverse_mm=400,
        wound_mm=605,
        note="before the stocktaking",
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )
    net_g = wound.ledger_mm * G_PER_M // 1000
    read_reel(
        reel=reel,
        kind=ReelReading.Kind.MASS,
        gross_g=(TARE_G + net_g) // SCALE_G * SCALE_G,
        tare_g=TARE_G,
        note="on the floor scale",
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )
