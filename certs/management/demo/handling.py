"""Plays what else happens to reels: rewinds, a wrong cut, rope that comes back, holds."""

from certs.management.demo.paperwork import draft_for_pieces, issue, withdraw
from certs.management.demo.sales import hand_over, supply
from certs.management.demo.stage import Stage
from inventory.models import Hold, Reel
from inventory.services.cut import reverse_cut
from inventory.services.holds import place_hold, release_hold
from inventory.services.receive import move_reel
from inventory.services.rewind import rewind_reel
from inventory.services.take_back import take_back_piece


def rewind(
    stage: Stage, reel: Reel, *, from_m: int, to_m: int, key: str, is_turned: bool = True
) -> Reel:
    """Wind a stretch of a reel, in metres, on to one of our own."""
    wound = rewind_reel(
        reel=reel,
        from_mm=from_m * 1000,
        to_mm=to_m * 1000,
        is_turned=is_turned,
        location="Shop floor",
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )
    stage.reels[key] = wound
    return wound


def rewind_for_the_shop(stage: Stage) -> None:
    """Wind rope on to smaller reels, one of them a second time, another without turning it."""
    first = rewind(stage, stage.reels["K-2231"], from_m=1100, to_m=1900, key="shop 8 mm")
    rewind(stage, first, from_m=500, to_m=800, key="van 8 mm")
    rewind(stage, stage.reels["OR-5502"], from_m=1200, to_m=1800, key="shop 3 mm")
    reel = stage.reels["V-910"]
    rewind(stage, reel, from_m=900, to_m=1300, key="shop 5 mm", is_turned=False)


def take_a_wrong_cut_back(stage: Stage) -> None:
    """Enter a cut on the wrong reel, and reverse it."""
    wrong = supply(stage, stage.reels["K-2240"], length_m=40)
    reverse_cut(
        cut=wrong,
        reason="Entered on the wrong reel; the rope was cut from another.",
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )


def take_rope_back(stage: Stage) -> None:
    """Sell 120 m with a certificate; 85 m come back unused, and the certificate is withdrawn."""
    customer = stage.parties["tolvane"]
    piece = supply(stage, stage.reels["OR-5503"], length_m=120)
    issued = issue(stage, "returned", draft_for_pieces(stage, [piece], customer=customer))
    hand_over(stage, piece, customer=customer)
    stage.calendar.wait(days=9)
    returned = take_back_piece(
        piece=piece,
        from_mm=0,
        to_mm=85_000,
        is_turned=True,
        location="Returns",
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )
    withdraw(stage, issued, reason="85 m of the 120 m came back unused; the rope was parted.")
    move_reel(
        reel=returned, location="Rack D2", by=stage.people["stores"], at=stage.calendar.moment()
    )
    stage.reels["returned 6 mm"] = returned


def hold_and_release_ferrules(stage: Stage) -> None:
    """Hold a lot of ferrules until its document is found."""
    hold = place_hold(
        subject=stage.lots["ferrule-13"],
        reason="No document of the maker with this lot",
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )
    stage.calendar.wait(days=3)
    release_hold(
        hold=hold,
        reason="The maker's document names the lot; it was filed with another.",
        by=stage.people["qa"],
        at=stage.calendar.moment(),
    )


def hold_a_stretch(stage: Stage, *, around: str) -> Hold:
    """Hold the metres in which broken wires were seen: those of a sling sold before, and more."""
    piece = stage.assemblies[around].piece_ties.get().piece
    return place_hold(
        subject=piece.reel,
        reason="Broken outer wires seen where a fork touched the reel",
        from_mm=max(piece.from_mm - 25_000, 0),
        to_mm=piece.to_mm + 40_000,
        by=stage.people["stores"],
        at=stage.calendar.moment(),
    )


def hold_a_sling(stage: Stage, key: str) -> None:
    """Hold a sling whose proof load sank."""
    place_hold(
        subject=stage.assemblies[key],
        reason="The proof load sank: an end may have slipped",
        by=stage.people["bench"],
        at=stage.calendar.moment(),
    )
