"""What is measured, each against a peer that does the same work with less around it."""

import io
import json
from collections.abc import Iterator
from itertools import count

import numpy as np
from django.db import connection, transaction
from numpy.lib.stride_tricks import sliding_window_view
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration

from certs.documents.certificate_pdf import certificate_html, certificate_pdf
from certs.documents.paper import STATIC
from certs.queries.tag_status import tag_answer
from certs.rules.load_trace import analyse
from certs.services.tags import issue_tag
from inventory.models import CutPiece, Reel
from inventory.queries.trace_back import back_from_piece
from inventory.services import journal
from inventory.services.cut import cut_piece
from tests.bench.cutting import proposing
from tests.bench.signing import signing
from tests.bench.timing import Ratio, compare
from tests.certs.papers import given_certifiable_piece, given_cut_length_draft, issued
from tests.certs.rules.synthetic_log import proof, times, trace
from tests.factories import MOMENT, given_person, given_reel

STEP_MM = 1000


def all_cases(*, pairs: int) -> Iterator[Ratio]:
    """Measure every case, the slow ones with fewer pairs."""
    yield rendering(pairs=max(5, pairs // 10))
    yield signing(pairs=pairs)
    yield tracing(pairs=pairs)
    yield scanning(pairs=pairs)
    yield cutting(pairs=pairs)
    yield journalling(pairs=pairs)
    yield proposing(pairs=max(5, pairs // 10))
    yield analysing(pairs=max(5, pairs // 4))


def rendering(*, pairs: int) -> Ratio:
    """One certificate, against the same page given to WeasyPrint with nothing kept between."""
    certificate = issued(given_cut_length_draft())
    snapshot = json.loads(certificate.snapshot)
    html = certificate_html(snapshot, is_site_copy=False)

    def naive() -> None:
        fonts = FontConfiguration()
        sheet = CSS(filename=str(STATIC / "css" / "paper.css"), font_config=fonts)
        page = HTML(string=html, base_url=str(STATIC))
        page.write_pdf(io.BytesIO(), stylesheets=[sheet], font_config=fonts)

    return compare(
        "render one certificate",
        ours=lambda: certificate_pdf(
            snapshot, canonical=certificate.snapshot, credential=certificate.credential
        ),
        peer=naive,
        against="same HTML, style sheet and fonts read anew (theirs without PDF/A)",
        pairs=pairs,
    )


def tracing(*, pairs: int) -> Ratio:
    """A piece back to its heats, against the bare join for a reel that was never rewound."""
    piece = given_certifiable_piece()

    def bare() -> None:
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT h.number FROM inventory_cutpiece c "
                "JOIN inventory_reelheat t ON t.reel_id = c.reel_id "
                "JOIN inventory_heat h ON h.id = t.heat_id WHERE c.id = %s",
                [piece.pk],
            )
            cursor.fetchall()

    return compare(
        "trace a piece to its heats",
        ours=lambda: back_from_piece(piece),
        peer=bare,
        against="one bare join through the same driver",
        pairs=pairs,
    )


def scanning(*, pairs: int) -> Ratio:
    """The whole answer to a tag, against the bare look-up of its row."""
    piece = given_certifiable_piece()
    issued(given_cut_length_draft(piece))
    tag = issue_tag(piece=piece, by=given_person(), at=MOMENT)

    def bare() -> None:
        with connection.cursor() as cursor:
            cursor.execute("SELECT * FROM certs_tag WHERE code = %s", [tag.code])
            cursor.fetchall()

    return compare(
        "answer a scanned tag",
        ours=lambda: tag_answer(tag.code),
        peer=bare,
        against="bare look-up of the tag's row",
        pairs=pairs,
    )


def cutting(*, pairs: int) -> Ratio:
    """One cut with its rules, code and journal entry, against a bare insert under the guards."""
    by = given_person()
    ours, theirs = given_reel(length_m=100_000), given_reel(length_m=100_000)
    here, there = count(), count()

    def cut() -> None:
        start = next(here) * STEP_MM
        cut_piece(reel=ours, from_mm=start, length_mm=STEP_MM, purpose="supply", by=by, at=MOMENT)

    def bare() -> None:
        _insert(theirs, next(there), by_id=by.pk)

    return compare(
        "cut a piece",
        ours=cut,
        peer=bare,
        against="one bare insert under the same guards",
        pairs=pairs,
    )


def journalling(*, pairs: int) -> Ratio:
    """One chained entry, against a bare insert of a row in a transaction of its own."""
    by = given_person()
    reel = given_reel(length_m=100_000)
    places = count()

    def chained() -> None:
        with transaction.atomic():
            journal.append(at=MOMENT, by=by, act="bench", subject="R-1", detail={"n": 1})

    return compare(
        "append to the journal",
        ours=chained,
        peer=lambda: _insert(reel, next(places), by_id=by.pk),
        against="one bare insert, unchained",
        pairs=pairs,
    )


def analysing(*, pairs: int) -> Ratio:
    """A force log of 100,000 readings, against one plain pass of numpy over the same array."""
    corners = proof(hold_s=962.0)
    samples = trace(corners, times(until_s=999.99, step_s=0.01), noise_n=100.0)
    readings = np.array(samples)
    at, forces = readings[:, 0].copy(), readings[:, 1].copy()

    def plain() -> None:
        quiet = np.median(sliding_window_view(forces, 5), axis=1)
        steady = np.abs(np.diff(quiet)) < 0.01 * quiet.max()
        high = quiet[1:] > 0.9 * quiet.max()
        held = at[3:-2][steady & high]
        (held[-1] - held[0], quiet.min(), forces.max())

    return compare(
        f"analyse {len(samples)} readings",
        ours=lambda: analyse(samples, target_n=40_000),
        peer=plain,
        against="numpy over ready arrays: median of five, steps, mask",
        pairs=pairs,
    )


def _insert(reel: Reel, place: int, *, by_id: int) -> None:
    CutPiece.objects.bulk_create(
        [
            CutPiece(
                code=f"bench-{reel.pk}-{place}"[:16],
                reel=reel,
                from_mm=place * STEP_MM,
                to_mm=(place + 1) * STEP_MM,
                purpose="supply",
                cut_at=MOMENT,
                cut_by_id=by_id,
            )
        ]
    )
