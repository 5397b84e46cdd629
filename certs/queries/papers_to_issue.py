"""Finds what of an order, a delivery, a reel or a piece has no paper yet, and the drafts that wait.

A thing has a paper while a draft or a certificate in force names it.
"""

from collections.abc import Iterable, Mapping

from django.db.models import Q, QuerySet

from certs.models import BreakingTest, Certificate, CertificatePiece
from certs.queries.claimable import pieces_of
from certs.queries.claims import breaking_test_of
from inventory.models import Assembly, CutPiece, Delivery, Order, Reel
from inventory.queries.find import Thing, find_thing
from inventory.rules.refusal import Refusal

CURRENT = (Certificate.State.DRAFT, Certificate.State.ISSUED)
Certifiable = CutPiece | Assembly | BreakingTest


def drafts_to_issue(code: str = "") -> QuerySet[Certificate]:
    """Give drafts, the oldest first; with a code those of its pieces and assemblies alone.

    Raises Refusal for a code that no pieces or assemblies go with.
    """
    drafts = Certificate.objects.filter(state=Certificate.State.DRAFT).select_related(
        "customer", "assembly__order_line", "breaking_test__machine", "replaces"
    )
    if not code.strip():
        return drafts.order_by("id")
    pieces, assemblies = _of(code)
    named = Q(assembly__in=assemblies.values("pk")) | Q(
        pk__in=Certificate.objects.filter(piece_ties__piece__in=pieces.values("pk")).values("pk")
    )
    return drafts.filter(named).order_by("id")


def codes_of_pieces(drafts: Iterable[Certificate]) -> Mapping[int, list[str]]:
    """Give the codes of the pieces of each of these, by its key, as they are listed on it."""
    codes: dict[int, list[str]] = {draft.pk: [] for draft in drafts}
    ties = CertificatePiece.objects.filter(certificate__in=codes).order_by("position")
    for pk, code in ties.values_list("certificate", "piece__code"):
        codes[pk].append(code)
    return codes


def things_without_paper(code: str) -> list[CutPiece | Assembly]:
    """Give pieces for supply and assemblies that could have a paper of their own and have none.

    A piece that was built in goes with its assembly's paper; one that came back is a reel again.
    Raises Refusal for a code that no pieces or assemblies go with.
    """
    pieces, assemblies = _of(code)
    free = pieces.filter(
        purpose=CutPiece.Purpose.SUPPLY,
        is_reversed=False,
        assembly_tie=None,
        wound_reel=None,
    )
    named = CutPiece.objects.filter(certificate_ties__certificate__state__in=CURRENT)
    with_paper = Assembly.objects.filter(certificates__state__in=CURRENT)
    return [
        *free.exclude(pk__in=named.values("pk")).select_related("reel").order_by("code"),
        *assemblies.exclude(pk__in=with_paper.values("pk")).order_by("code"),
    ]


def certifiable_of(code: str) -> Certifiable | None:
    """Find what a code names, if it is a thing that a paper may speak of alone."""
    test = breaking_test_of(code.strip().upper())
    if test is not None:
        return test
    thing = find_thing(code)
    return thing if isinstance(thing, CutPiece | Assembly) else None


def paper_of_its_own(thing: Certifiable) -> Certificate | None:
    """Find the draft or the certificate in force that speaks of this thing alone, draft first."""
    current = Certificate.objects.filter(state__in=CURRENT).order_by("-id")
    match thing:
        case CutPiece():
            found = current.filter(piece_ties__piece=thing)
            found = found.exclude(
                pk__in=Certificate.objects.filter(piece_ties__position__gt=1).values("pk")
            )
        case Assembly():
            found = current.filter(assembly=thing)
        case BreakingTest():
            found = current.filter(breaking_test=thing)
    papers = list(found)
    drafts = [paper for paper in papers if paper.state == Certificate.State.DRAFT]
    return next(iter([*drafts, *papers]), None)


def _of(code: str) -> tuple[QuerySet[CutPiece], QuerySet[Assembly]]:
    thing = find_thing(code)
    assemblies = _assemblies_of(thing) if thing else None
    if thing is None or assemblies is None:
        message = f"“{code}” is no order, delivery, reel, piece or assembly on record."
        raise Refusal(message, field="of")
    pieces = pieces_of(thing)
    return CutPiece.objects.none() if pieces is None else pieces, assemblies


def _assemblies_of(thing: Thing) -> QuerySet[Assembly] | None:
    match thing:
        case Order():
            return Assembly.objects.filter(order_line__order=thing)
        case Delivery():
            return Assembly.objects.filter(delivery_item__delivery=thing)
        case Reel():
            legs = CutPiece.objects.filter(reel=thing, assembly_tie__isnull=False)
            return Assembly.objects.filter(piece_ties__piece__in=legs.values("pk")).distinct()
        case Assembly():
            return Assembly.objects.filter(pk=thing.pk)
        case CutPiece():
            return Assembly.objects.filter(piece_ties__piece=thing)
    return None
