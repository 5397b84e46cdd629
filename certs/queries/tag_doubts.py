"""Tells at a tag that damage was reported from site and is not settled yet.

A report alone changes no standing, as anyone may send one; but nobody shall lift with a thing that
is told as good while someone else has seen it damaged. What the reporter wrote is not repeated:
it is nobody's word but his.
"""

from collections.abc import Iterator, Sequence

from django.db.models import Q
from django.utils.timezone import localdate

from certs.models import Certificate, SiteReport, Tag
from certs.rules.said import Said
from inventory.models import Assembly, CutPiece


def doubts_about(
    tag: Tag, *, pieces: Sequence[CutPiece], assembly: Assembly | None
) -> Iterator[Said]:
    """Give a sentence for each kind of open report, the latest first.

    Any tag of the thing counts, those of its papers too: a sling often bears several.
    """
    papers = Certificate.objects.filter(piece_ties__piece__in=pieces)
    same = Q(tag=tag) | Q(tag__piece__in=pieces) | Q(tag__certificate__in=papers)
    if assembly is not None:
        same |= Q(tag__assembly=assembly) | Q(tag__certificate__assembly=assembly)
    told: set[str] = set()
    for report in SiteReport.objects.filter(same, closed_at=None).order_by("-id"):
        if report.kind not in told:
            told.add(report.kind)
            yield Said(
                "Reported from site on {day}, and not settled yet: {kind}."
                " Let a competent person examine it before it is used.",
                day=localdate(report.received_at),
                kind=Said(report.get_kind_display()),
            )
