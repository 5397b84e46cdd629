"""Finds whatever one search box is asked for: things, papers, tests, checks, letters and reports.

A fixed number of queries. Where a hit is shown is decided by the page that asks.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from django.db.models import Model, Q

from certs.models import (
    BreakingTest,
    Certificate,
    ProofTest,
    RecallNotice,
    ReceivingCheck,
    SiteReport,
    WireTest,
)
from certs.queries.site_reports import tag_on_site
from certs.rules.asked_text import AskedText, asked_text
from inventory.queries.search import MOST_OF_A_KIND, Hit, things_named, things_of_customer

CUSTOMER = "customer"

# The letters of a code: its kind in words, whose it is, and the column that tells what it is about.
_CODED: Final[Mapping[str, tuple[str, type[Model], str]]] = MappingProxyType(
    {
        "BT": ("breaking-force test", BreakingTest, "sample__code"),
        "PT": ("proof-load test", ProofTest, "assembly__code"),
        "WT": ("wire test", WireTest, "reel__code"),
        "RC": ("receiving check", ReceivingCheck, "reel__code"),
        "RN": ("recall notice", RecallNotice, "customer__name"),
        "SR": ("report from site", SiteReport, "kind"),
    }
)


@dataclass(frozen=True, slots=True)
class Searched:
    """What was asked, and what was found; the sure hits stand first.

    `sure` is the one thing that was surely meant, None where that is open.
    """

    asked: AskedText
    hits: Sequence[Hit]

    @property
    def sure(self) -> Hit | None:
        """The one sure hit; a customer is no place to go to, but a list of what is his."""
        sure = [hit for hit in self.hits if hit.is_sure]
        return sure[0] if len(sure) == 1 and sure[0].kind != CUSTOMER else None

    @property
    def kinds(self) -> list[tuple[str, list[Hit], bool]]:
        """The hits by kind, no more of each than are told; and whether there are more."""
        grouped: dict[str, list[Hit]] = {}
        for hit in self.hits:
            grouped.setdefault(hit.kind, []).append(hit)
        return [
            (kind, hits[:MOST_OF_A_KIND], len(hits) > MOST_OF_A_KIND)
            for kind, hits in grouped.items()
        ]


def search(typed: str, *, reads_reports: bool) -> Searched:
    """Find what a text means.

    Args:
        typed: as a person types or a phone reads it, an address too.
        reads_reports: whether reports from site may be told.
    """
    asked = asked_text(typed)
    hits = things_named(code=asked.code, word=asked.word)
    hits += _papers(asked)
    hits += _claims(asked, reads_reports=reads_reports)
    hits += _tags(asked)
    hits.sort(key=lambda hit: not hit.is_sure)
    hits += _of_customer(hits)
    return Searched(asked, tuple(hits))


def _papers(asked: AskedText) -> list[Hit]:
    found = Q(number=asked.number) if asked.number else Q(draft_code=asked.code, draft_code__gt="")
    if asked.word:
        found |= Q(number__icontains=asked.word)
    papers = Certificate.objects.filter(found).select_related("customer")
    rows = papers.order_by("-id")[: MOST_OF_A_KIND + 1]
    names = {asked.number, asked.code, asked.word.upper()} - {""}
    return [
        replace(_paper(row), is_sure=bool(names & {row.number, row.draft_code})) for row in rows
    ]


def _paper(row: Certificate) -> Hit:
    whose = f", for {row.customer.name}" if row.customer else ""
    kind = row.get_kind_display()
    return Hit("certificate", row.number or row.draft_code, f"{kind}, {row.state}{whose}")


def _claims(asked: AskedText, *, reads_reports: bool) -> list[Hit]:
    """Find tests, checks, letters and reports; each is known by its code alone."""
    letters = asked.code.partition("-")[0]
    if letters not in _CODED or (letters == "SR" and not reads_reports):
        return []
    kind, model, of = _CODED[letters]
    rows = model._default_manager.filter(code=asked.code)  # noqa: SLF001 -- Django's way
    return [_sure(kind, asked.code, str(row)) for row in rows.values_list(of, flat=True)]


def _tags(asked: AskedText) -> list[Hit]:
    tag = tag_on_site(asked.tag) if asked.tag else None
    if tag is None:
        return []
    on = tag.piece or tag.assembly or tag.certificate
    state = " (revoked)" if tag.revoked_at else ""
    return [_sure("tag", tag.code, f"on {on}{state}")]


def _of_customer(hits: Iterable[Hit]) -> list[Hit]:
    """Tell what is a customer's, where just one customer was named."""
    customers = [hit.code for hit in hits if hit.kind == CUSTOMER]
    if len(customers) != 1:
        return []
    papers = Certificate.objects.filter(customer__code=customers[0]).select_related("customer")
    rows = papers.order_by("-id")[: MOST_OF_A_KIND + 1]
    return [*things_of_customer(customers[0]), *(_paper(row) for row in rows)]


def _sure(kind: str, code: str, text: str) -> Hit:
    return Hit(kind, code, text, is_sure=True)
