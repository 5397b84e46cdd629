"""Every claim of one kind on record, newest first, for lists that are shown page by page."""

from django.db.models import Q, QuerySet

from certs.models import (
    BreakingTest,
    Certificate,
    ProofTest,
    Representative,
    StrengthBasis,
    Tag,
)
from inventory.models import Assembly, Reel


def bases_of(reel: Reel) -> QuerySet[StrengthBasis]:
    """Return every basis ever named for a reel itself, the one that stands first."""
    named = StrengthBasis.objects.filter(reel=reel)
    return named.select_related("factor", "tabulated", "agreed", "named_by").order_by("-id")


def breaking_tests() -> QuerySet[BreakingTest]:
    """Return the breaking-force tests with sample, reel and machine."""
    return BreakingTest.objects.select_related("sample__reel", "machine", "reversal").order_by(
        "-tested_at", "-id"
    )


def proof_tests(*, assembly: Assembly | None = None) -> QuerySet[ProofTest]:
    """Return the proof-load tests, of one assembly if one is named."""
    found = ProofTest.objects.select_related("assembly", "machine", "reversal").order_by(
        "-tested_at", "-id"
    )
    return found if assembly is None else found.filter(assembly=assembly)


def certificates(*, state: str = "", words: str = "") -> QuerySet[Certificate]:
    """Return certificates of a state; each of the words must stand in one of their texts."""
    found = Certificate.objects.select_related("customer", "assembly", "breaking_test")
    if state:
        found = found.filter(state=state)
    for word in words.split():
        pieces = Certificate.objects.filter(piece_ties__piece__code__iexact=word)
        found = found.filter(
            Q(number__icontains=word)
            | Q(draft_code__icontains=word)
            | Q(customer__name__icontains=word)
            | Q(customer_reference__icontains=word)
            | Q(assembly__code__iexact=word)
            | Q(breaking_test__code__iexact=word)
            | Q(pk__in=pieces.values("pk"))
        )
    return found.order_by("-id")


def representatives() -> QuerySet[Representative]:
    """Return the register of those who may validate, those who may for longest first."""
    return Representative.objects.select_related("person").order_by("-valid_from_date", "-id")


def tags_of_assembly(assembly: Assembly) -> QuerySet[Tag]:
    """Return the tags of an assembly, the latest first."""
    return Tag.objects.filter(assembly=assembly).order_by("-id")


def certificates_of_test(test: BreakingTest) -> QuerySet[Certificate]:
    """Return the reports of a breaking-force test, drafts too."""
    return Certificate.objects.filter(breaking_test=test).order_by("-id")


def certificates_of_assembly(assembly: Assembly) -> QuerySet[Certificate]:
    """Return the certificates of an assembly, drafts too."""
    return Certificate.objects.filter(assembly=assembly).order_by("-id")
